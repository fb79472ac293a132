"""Copies of the method remember what they said; exercises stand in the one text."""

import django.db.models.deletion
from django.db import migrations, models


def remember(apps, schema_editor):
    """Put both texts together, and begin each history with what the copy says today."""
    # Whichever database is brought up to date: a backup is, in one of its own.
    place = schema_editor.connection.alias
    copies = apps.get_model("web", "MethodCopy").objects.using(place)
    revisions = apps.get_model("web", "MethodRevision").objects.using(place)
    for copy in copies.iterator():
        if copy.exercises:
            copy.text = f"{copy.text.rstrip()}\n\n{copy.exercises}"
            copies.filter(pk=copy.pk).update(text=copy.text, exercises="")
        revision = revisions.create(method=copy, number=copy.revision, text=copy.text)
        revisions.filter(pk=revision.pk).update(at=copy.changed)


class Migration(migrations.Migration):
    dependencies = [
        ("web", "0008_plans_accepted"),
    ]

    operations = [
        migrations.CreateModel(
            name="MethodRevision",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("number", models.PositiveIntegerField()),
                ("text", models.TextField()),
                ("at", models.DateTimeField(auto_now_add=True)),
                ("what", models.CharField(blank=True, default="", max_length=300)),
                (
                    "method",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="revisions",
                        to="web.methodcopy",
                    ),
                ),
            ],
            options={"ordering": ["-number"]},
        ),
        migrations.AddConstraint(
            model_name="methodrevision",
            constraint=models.UniqueConstraint(
                fields=("method", "number"), name="method_texts_are_numbered"
            ),
        ),
        migrations.RunPython(remember, migrations.RunPython.noop),
    ]
