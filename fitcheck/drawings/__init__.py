"""What does a survey, a verdict or a week look like: pure drawings, data in, SVG text out."""
