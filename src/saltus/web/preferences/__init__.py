"""Settings: units, language, data, backups."""
