"""The pages, one module each: a request to a use case, its result to a template."""
