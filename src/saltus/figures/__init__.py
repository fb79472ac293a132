"""One definition of each chart, drawn alike on a page and in print."""
