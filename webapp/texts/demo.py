"""What the demo prints when it starts."""

DEMO: dict[str, str] = {
    "demo.desk": (
        "Example Harbour Hospital, all invented.\n"
        "Desk:    {address}/   password of everybody: {password}"
    ),
    "demo.stop": "Stop with Ctrl-C. Everything is kept in {home}",
    "demo.other": "Any other command speaks to it with WIREMARK_HOME={home}",
    "demo.tablet": "Tablet:  {address}/tablet/enrol   one-time code: {code}",
}
