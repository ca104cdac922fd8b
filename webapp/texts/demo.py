"""What the demo prints when it starts, and the words it writes at the desk."""

DEMO: dict[str, str] = {
    "demo.addendum": (
        "Five days after the procedure: clot in the right femoral vein at the place of"
        " the sheath, under treatment. The arterial puncture of the neck left nothing."
    ),
    "demo.browser": "Browser {n}",
    "demo.caption": "Right jugular vein, needle tip inside",
    "demo.desk": (
        "Example Harbour Hospital, all invented.\n"
        "Desk:    {address}/   password of everybody: {password}"
    ),
    "demo.drawn": "DRAWN FOR A DEMONSTRATION\nNOBODY WAS SCANNED",
    "demo.stop": "Stop with Ctrl-C. Everything is kept in {home}",
    "demo.other": "Any other command speaks to it with WIREMARK_HOME={home}",
    "demo.tablet": "Tablet:  {address}/tablet/enrol   one-time code: {code}",
}
