"""The local web app: pages to use cases, nothing more."""
