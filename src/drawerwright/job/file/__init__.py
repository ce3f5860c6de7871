"""The job file: what may stand in it, reading it with the line of every fault, editing it with its comments kept.

`model` and its parts `*_model` say every entry with type, default and limits; `reading` turns text into it; `building`
makes a `Job` of it; `editing` changes the text of a user's file. Trial files and measured profiles are read here too.
"""
