"""What comes from the phones of athletes, and their own sign-in."""

import uuid

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("web", "0010_methods_in_one_text"),
    ]

    operations = [
        migrations.AddField(
            model_name="athlete",
            name="account",
            field=models.OneToOneField(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="athlete",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AlterField(
            model_name="auditentry",
            name="action",
            field=models.CharField(
                choices=[
                    ("invited", "made an invitation"),
                    ("invitation_withdrawn", "withdrew an invitation"),
                    ("joined", "accepted an invitation"),
                    ("share_changed", "changed what another coach may do"),
                    ("share_ended", "ended a share"),
                    ("squad_made", "made a squad"),
                    ("squad_renamed", "renamed a squad"),
                    ("squad_deleted", "deleted a squad for good"),
                    ("health_shared", "changed who sees health remarks"),
                    ("exported", "exported data"),
                    ("imported", "imported data"),
                    ("athlete_deleted", "deleted an athlete"),
                    ("athlete_brought_back", "brought an athlete back"),
                    ("athlete_purged", "deleted an athlete for good"),
                    ("method_made", "made a copy of a method"),
                    ("method_changed", "changed a method"),
                    ("method_deleted", "deleted a method"),
                    ("method_brought_back", "brought a method back"),
                    ("method_chosen", "chose the method of a squad"),
                    ("athlete_invited", "invited an athlete to their own page"),
                    ("athlete_invitation_withdrawn", "withdrew an athlete's invitation"),
                    ("athlete_joined", "set up their own page"),
                    ("athlete_account_ended", "took an athlete's sign-in away"),
                    ("email_changed", "changed their e-mail address"),
                    ("password_changed", "changed their password"),
                    ("plan_accepted", "accepted a plan"),
                    ("plan_declined", "declined a plan"),
                    ("backup_made", "made a backup"),
                    ("backup_fetched", "downloaded a backup"),
                    ("backup_restored", "restored a backup"),
                    ("backup_deleted", "deleted a backup"),
                ],
                max_length=32,
            ),
        ),
        migrations.CreateModel(
            name="AthleteInvitation",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("used", models.DateTimeField(blank=True, null=True)),
                ("withdrawn", models.DateTimeField(blank=True, null=True)),
                (
                    "athlete",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="invitations",
                        to="web.athlete",
                    ),
                ),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["-made"],
            },
        ),
        migrations.CreateModel(
            name="PocketEntry",
            fields=[
                (
                    "id",
                    models.UUIDField(
                        default=uuid.uuid4, editable=False, primary_key=True, serialize=False
                    ),
                ),
                ("session", models.UUIDField()),
                ("date", models.DateField()),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("start", "begun"),
                            ("before", "told before it"),
                            ("set", "a set"),
                            ("skip", "an exercise left out"),
                            ("remove", "an entry taken back"),
                            ("after", "told after it"),
                            ("agree", "cautions agreed to"),
                        ],
                        max_length=8,
                    ),
                ),
                ("data", models.JSONField(blank=True, default=dict)),
                ("at", models.DateTimeField()),
                ("received", models.DateTimeField(auto_now_add=True)),
                ("device", models.UUIDField()),
                (
                    "athlete",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="entries",
                        to="web.athlete",
                    ),
                ),
            ],
            options={
                "ordering": ["at", "id"],
                "indexes": [
                    models.Index(fields=["athlete", "session"], name="entries_of_a_session"),
                    models.Index(fields=["athlete", "date"], name="entries_by_day"),
                ],
            },
        ),
    ]
