"""Long work in the background: plans, packets and archives, each with its progress and a way to stop it."""
