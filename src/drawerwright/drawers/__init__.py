"""From an opening to boxes, from boxes to parts."""
