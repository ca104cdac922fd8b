"""Texts of people's names and words that public bug reports tell of: the string set."""

# What can be typed into one line.
LINES = (
    *("Łukasz Żółć", "Nguyễn Thị Hằng", "محمد", "שלום", "山田太郎", "İğşç", "e\u0301"),
    *("👨‍👩‍👧", "O'Brien-Smith", "A&P", "BP <120/80", "x<y>z", "<b>bold", "</para>"),
    *("<br>", "=1+1", "-5", "@x", 'a"b'),
)
# What comes from a paste, a scanner or a broken program.
OTHERS = (
    *("a\r\nb", "\t", "a\tb", "\x00", "a\x00b", "\x1b", "\x1b[31m"),
    *("x" * 3000, " ".join(["word"] * 20_000), "", "   "),
)
