"""Paper: drawings and sheets, flattened to one scene and written as SVG, PDF and DXF."""
