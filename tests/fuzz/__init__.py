"""Bad input on purpose: whatever stands in a file or is typed, reading it ends, soon, in a value or
in one of the errors of `pondtui.errors`.

    pytest tests/fuzz                        5,000 inputs, the same every time
    python -m tests.fuzz --long              100,000 inputs, another seed each time (it is printed)
    python -m tests.fuzz --seed 7 --target journal --inputs 20000
    python -m tests.fuzz --guided journal    guided by coverage until it is stopped

The guided run needs `pip install atheris` (Linux, CPython 3.11) and is no part of any test
command: it keeps what it finds as `crash-*` files in the folder where it is started; words behind
`--guided TARGET` go to libFuzzer (`-max_total_time=600`, a folder of begun inputs).
An input that breaks a reader is kept for good, small, as a test of that reader beside its others.
"""
