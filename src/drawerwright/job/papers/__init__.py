"""What is taken to the machines: set-up cards, the pages of the packet, drawings and lists, and `plan.json`."""
