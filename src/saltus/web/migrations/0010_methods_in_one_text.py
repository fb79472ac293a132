"""What the exercises of a copy say stands in its one text."""

from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [
        ("web", "0009_method_revisions"),
    ]

    operations = [
        migrations.RemoveField(model_name="methodcopy", name="exercises"),
    ]
