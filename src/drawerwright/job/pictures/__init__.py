"""What is shown of a job, drawn for a screen: the scenes of the drawings room, chosen and scaled, as SVG or GLB."""
