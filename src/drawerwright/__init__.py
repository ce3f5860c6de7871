"""Settings, sizes, bands, sheets and shop papers for drawers with router-cut corner joints."""

__version__ = "0.1.0"
