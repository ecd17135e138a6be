"""The ink: PDF, SVG, XLSX and calendar files made from what stages/papers says."""
