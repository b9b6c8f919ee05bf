"""Published numbers and the catalogue as data rows, each with its source."""
