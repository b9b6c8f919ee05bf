"""The same tool in the browser."""
