"""Completion scripts of three shells, made from what the commands take."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drawerwright.cli.command_arguments import CommandArgument, ToldCommand, Value


def script_for(shell: str, commands: Sequence[ToldCommand]) -> str:
    """The script of `bash`, `zsh` or `fish`."""
    lines = {"bash": _bash, "zsh": _zsh, "fish": _fish}[shell](commands)
    return "\n".join(lines) + "\n"


def _bash(commands: Sequence[ToldCommand]) -> Iterator[str]:
    names = " ".join(command.name for command in commands)
    yield "# Read it in ~/.bashrc: source drawerwright.bash"
    yield _BASH_HEAD.replace("@NAMES@", names)
    yield '  case "$command $before" in'
    for command in commands:
        for each in command.options:
            if each.value is not Value.NONE:
                cases = " | ".join(f'"{command.name} {name}"' for name in each.names)
                yield f"    {cases}) {_bash_value(each)} return ;;"
    yield "  esac"
    yield '  case "$command" in'
    for command in commands:
        options = " ".join([*(name for each in command.options for name in each.names), "--help"])
        yield f"    {command.name})"
        yield f'      if [[ $typed == -* ]]; then _drawerwright_words "{options}"; return; fi'
        yield from (f"      {_bash_value(each)}" for each in command.others)
        yield "      ;;"
    yield "  esac"
    yield "}"
    yield "complete -o filenames -F _drawerwright drawerwright"


def _bash_value(argument: CommandArgument) -> str:
    match argument.value:
        case Value.WORD:
            return f'_drawerwright_words "{" ".join(argument.words)}";'
        case Value.FILE:
            return f'_drawerwright_files "{argument.suffix}";'
        case Value.FOLDER:
            return "_drawerwright_folders;"
    return ":;"


_BASH_HEAD = """\
_drawerwright_words() { mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -W "$1" -- "$typed"); }
_drawerwright_folders() { mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -d -- "$typed"); }
_drawerwright_files() {
  if [[ -z $1 ]]; then mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -f -- "$typed"); return; fi
  mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -f -X "!*$1" -- "$typed")
  _drawerwright_folders
}
_drawerwright() {
  local typed=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} command=${COMP_WORDS[1]}
  COMPREPLY=()
  if [[ $typed == = ]]; then typed=; elif [[ $before == = ]]; then before=${COMP_WORDS[COMP_CWORD - 2]}; fi
  if ((COMP_CWORD == 1)); then _drawerwright_words "@NAMES@ --help --version"; return; fi"""


def _zsh(commands: Sequence[ToldCommand]) -> Iterator[str]:
    yield "#compdef drawerwright"
    yield "# Put it as _drawerwright into a folder of $fpath."
    yield "_drawerwright() {"
    yield "  local -a commands"
    yield "  commands=("
    yield from (f"    {_quoted(f'{command.name}:{command.summary}')}" for command in commands)
    yield "  )"
    yield "  if ((CURRENT == 2)); then _describe command commands; return; fi"
    yield "  local command=$words[2]"
    yield "  shift words; ((CURRENT--))"
    yield '  case "$command" in'
    for command in commands:
        yield f"    {command.name})"
        yield "      _arguments \\"
        for each in command.options:
            yield from (f"        {_quoted(_zsh_option(each, name))} \\" for name in each.names)
        for place, each in enumerate(command.others, start=1):
            yield f"        {_quoted(f'{place}:{_plain(each.value_name)}:{_zsh_value(each)}')} \\"
        yield "        '--help[show help]'"
        yield "      ;;"
    yield "  esac"
    yield "}"
    yield 'if [[ "${funcstack[1]}" == _drawerwright ]]; then _drawerwright "$@"'
    yield "else compdef _drawerwright drawerwright; fi"


def _zsh_option(argument: CommandArgument, name: str) -> str:
    said = _plain(argument.meaning).replace("[", "(").replace("]", ")")
    if argument.value is Value.NONE:
        return f"{name}[{said}]"
    return f"*{name}=[{said}]:{_plain(argument.value_name)}:{_zsh_value(argument)}"


def _zsh_value(argument: CommandArgument) -> str:
    match argument.value:
        case Value.WORD:
            return f"({' '.join(argument.words)})"
        case Value.FILE:
            return f'_files -g "*{argument.suffix}"' if argument.suffix else "_files"
        case Value.FOLDER:
            return "_files -/"
    return " "


def _fish(commands: Sequence[ToldCommand]) -> Iterator[str]:
    yield "# Put it into ~/.config/fish/completions/drawerwright.fish"
    yield "complete -c drawerwright -f"
    for command in commands:
        first = f"complete -c drawerwright -n __fish_use_subcommand -a {command.name}"
        yield f"{first} -d {_quoted(command.summary)}"
    for command in commands:
        here = f"complete -c drawerwright -n '__fish_seen_subcommand_from {command.name}'"
        for each in command.options:
            names = " ".join(f"-l {name[2:]}" for name in each.names if name.startswith("--"))
            yield f"{here} {names}{_fish_value(each)} -d {_quoted(each.meaning)}"
        yield from (f"{here}{_fish_value(each)}" for each in command.others if each.value is not Value.OTHER)


def _fish_value(argument: CommandArgument) -> str:
    """`-x`: a value is needed, and no file; `-F`: a file is welcome."""
    needed = " -x" if argument.names else ""
    match argument.value:
        case Value.NONE:
            return ""
        case Value.WORD:
            return f"{needed} -a {_quoted(' '.join(argument.words))}"
        case Value.FILE if argument.suffix:
            return f"{needed} -k -a {_quoted(f'(__fish_complete_suffix {argument.suffix})')}"
        case Value.FILE:
            return " -r -F" if argument.names else " -F"
        case Value.FOLDER:
            return f"{needed} -a '(__fish_complete_directories)'"
    return needed


def _plain(text: str) -> str:
    """Text that a completion specification of zsh takes: it is divided at colons."""
    return " ".join(text.split()).replace("\\", "").replace(":", " –")


def _quoted(text: str) -> str:
    """For a shell, in single quotes, on one line."""
    return "'" + " ".join(text.split()).replace("'", "’") + "'"
