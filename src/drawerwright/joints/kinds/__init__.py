"""The kinds of joints that come with the program, each in a module of its own that ends with its `JOINT`.

Nobody imports one by name: `drawerwright.joints.registry` loads it when it is asked for. docs/adding-a-joint.md shows
how to add one.
"""
