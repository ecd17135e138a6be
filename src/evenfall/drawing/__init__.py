"""Drawing: layers of lines, areas, texts and dimensions; one SVG writer and one DXF writer."""
