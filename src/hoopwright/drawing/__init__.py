"""One drawing model, the views of a design, and its SVG and DXF writers."""
