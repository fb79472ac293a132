import altair as alt
import pytest
import vl_convert
from django.urls import reverse

from saltus.web.athletes.charts import CHARTS

pytestmark = pytest.mark.django_db


def fetch(client, athlete, name, query="", **how):
    return client.get(reverse("athlete-chart", args=[athlete.pk, name]) + query, **how)


@pytest.mark.parametrize("name", sorted(CHARTS))
@pytest.mark.parametrize("dark", ["", "?dark=1"])
def test_each_chart_is_valid_and_can_be_drawn(coach, assessed, name, dark):
    answer = fetch(coach, assessed, name, dark)
    spec = answer.json()

    assert answer.status_code == 200
    alt.Chart.from_dict(spec, validate=True)
    assert vl_convert.vegalite_to_svg(spec | {"width": 300}).startswith("<svg")
    assert spec["width"] == "container"


def test_a_browser_that_has_a_chart_is_told_so(coach, assessed, owner):
    tag = fetch(coach, assessed, "jump").headers["ETag"]

    assert fetch(coach, assessed, "jump", headers={"If-None-Match": tag}).status_code == 304
    assert fetch(coach, assessed, "jump", "?dark=1").headers["ETag"] != tag
    owner.length_unit = "in"
    owner.save()
    assert fetch(coach, assessed, "jump", headers={"If-None-Match": tag}).status_code == 200


def test_an_unknown_chart_and_somebody_elses_are_not_there(client_of, coach, outsider, assessed):
    assert fetch(coach, assessed, "radar").status_code == 404
    assert fetch(client_of(outsider), assessed, "jump").status_code == 404


def test_there_is_no_chart_before_the_first_assessment_or_without_a_profile(
    coach, tested, athlete, assessment_of_tested
):
    from saltus.web.models import StoredAssessment

    assert fetch(coach, tested, "jump").status_code == 404
    document = assessment_of_tested["document"] | {"force_velocity": None}
    StoredAssessment.objects.create(
        athlete=athlete, **(assessment_of_tested | {"document": document})
    )
    assert fetch(coach, athlete, "force-velocity").status_code == 404
