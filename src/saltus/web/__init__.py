"""The coach's web application. No formula lives here; nothing outside it knows Django."""
