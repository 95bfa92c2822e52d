"""The entry point of the command line.

Nothing else is loaded before `main` can catch ctrl+c: that is why imports are inside functions
here, as nowhere else on the command line without a comment.
"""

import sys

_STOPPED = 130
_STARTING = 1_000_000  # objects until rubbish is looked for: all that loading makes is kept


def main(arguments: list[str] | None = None) -> int:
    """Run the coach.

    Args:
        arguments: The command line; None for the process's own.

    Returns:
        The exit status: 0 when done, 1 when the input has errors, 2 for a wrong call.
    """
    # Called by a test: streams and signals stay as they are.
    if arguments is not None:
        return _run(arguments)
    try:
        return _run_heard()
    except KeyboardInterrupt:
        return _stopped()
    finally:
        _end_undisturbed()


def _run_heard() -> int:
    import gc

    from coach.cli.output import run_with_output

    # Loading modules makes many objects and hardly any garbage.
    gc.set_threshold(_STARTING)
    return run_with_output(lambda: _run(sys.argv[1:]))


def _stopped() -> int:
    _end_undisturbed()
    from coach.cli.output import print_notice

    print_notice("stopped.")
    return _STOPPED


def _end_undisturbed() -> None:
    """Ignore ctrl+c from here on, when only the end is left to do."""
    import gc
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.freeze()  # what is left goes with the process, and is not looked through once more


def _run(given: list[str]) -> int:
    from coach.cli.output import OutputLost

    try:
        return _run_command(given)
    except OutputLost:
        raise
    except Exception as fault:
        if _began_with_ctrl_c(fault):
            # Python wraps it, for example in a RuntimeError while a class is being created.
            raise KeyboardInterrupt from fault
        from coach.cli.fault import report_fault

        return report_fault(fault, given)


def _began_with_ctrl_c(fault: BaseException | None) -> bool:
    """Return whether an error came from ctrl+c, as inside the making of a class."""
    while fault is not None and not isinstance(fault, KeyboardInterrupt):
        fault = fault.__cause__ or fault.__context__
    return fault is not None


def _run_command(given: list[str]) -> int:
    from coach.cli.registry import parse_call

    command, options = parse_call(given)
    return command.load().run(options)


if __name__ == "__main__":
    sys.exit(main())
