"""What a tablet says of its lock: passphrase, PIN, and why it is not locked."""

LOCK: dict[str, str] = {
    "by_code.again": "Go on writing: case begun {time}",
    "by_code.again_more": (
        "What was entered before can no longer be read here. It is kept, and sent."
    ),
    "by_code.begun": "begun {time}, earlier entries not readable here",
    "by_code.code": "Case code",
    "by_code.digits": "A case code has 4 digits.",
    "by_code.gone": (
        "A case code was wrong five times. Whoever unlocks this tablet opens the case."
    ),
    "by_code.hint": "The four digits that stood under “opens again”.",
    "by_code.left": "No case has this code. {count} tries left.",
    "by_code.left_one": "No case has this code. One try left.",
    "by_code.now": "New case now, no name",
    "by_code.now_more": "without unlocking; four digits open the case again",
    "by_code.open": "Open the case",
    "by_code.slept": (
        "The browser was ended or slept meanwhile, and no code opens a case any more."
    ),
    "by_code.opens_again": "opens again",
    "lock.again": "Once more",
    "lock.again_other": "The two are not the same. Type it once more.",
    "lock.at_least": "At least {count} letters, figures and blanks.",
    "lock.card": "Capture lost: the hospital's card",
    "lock.changed": "Another window changed it meanwhile. Nothing was changed here.",
    "lock.current": "Your passphrase now",
    "lock.done_another": "{name} can unlock this tablet from now on.",
    "lock.done_change": "Your passphrase is changed.",
    "lock.done_pin": "The PIN opens this tablet until its browser is closed.",
    "lock.done_pin_gone": "There is no PIN any more.",
    "lock.draw_words": "Draw four words",
    "lock.forgotten": (
        "Nobody can read it back. If all who know one forget it, what was sent stays on"
        " the server, and what was not cannot be read."
    ),
    "lock.four_words": "Four words",
    "lock.four_words_hint": (
        "Drawn at random from {count} words. Whoever tries {per_s} such fours every"
        " second needs about {years} years. Write them down, away from the tablet."
    ),
    "lock.has_one": "This tablet has a passphrase already.",
    "lock.heading": "Locked",
    "lock.is_open": (
        "This tablet has no passphrase: whoever holds it can read what is on it."
    ),
    "lock.key": "Lock",
    "lock.lock_now": "Lock this tablet",
    "lock.name": "Your name",
    "lock.name_missing": "Say whose passphrase it is.",
    "lock.name_of": "Name",
    "lock.new": "Passphrase",
    "lock.new_hint": "The four words, or one of your own of {count} letters or more.",
    "lock.no_worker": (
        "This browser does not hold the key between pages. Open Wiremark in a normal"
        " window of the tablet's browser."
    ),
    "lock.none_yet": "This tablet has no passphrase yet.",
    "lock.not_locked": (
        "Not locked: something could not be kept. It still stands here; try it again."
    ),
    "lock.not_proven": "The new passphrase did not open again. Nothing was changed.",
    "lock.open": "Unlock",
    "lock.other_words": "Other words",
    "lock.passphrase": "Passphrase",
    "lock.people": (
        "Who can unlock it: {names}. Each by the passphrase that was typed for them."
    ),
    "lock.pin": "PIN",
    "lock.pin_digits": "A PIN has 4 to 8 digits.",
    "lock.pin_gone": "The PIN was wrong five times. The passphrase opens it.",
    "lock.pin_heading": "PIN",
    "lock.pin_hint": "4 to 8 digits. It opens again until the browser is closed.",
    "lock.pin_left": "This PIN is not right. {count} tries left.",
    "lock.pin_left_one": "This PIN is not right. One try left.",
    "lock.pin_may": "Set a PIN for the time the browser is open, or none",
    "lock.pin_none": "No PIN",
    "lock.pin_set": "Set the PIN",
    "lock.sends": "It goes on sending what was entered.",
    "lock.server_cannot": (
        "The server cannot open this tablet: it was enrolled anew since, or the server"
        " has another key. The passphrase opens it."
    ),
    "lock.set": "Set the passphrase",
    "lock.set_another": "Add one more person",
    "lock.set_change": "Change my passphrase",
    "lock.set_first": "Set a passphrase",
    "lock.set_first_more": "whoever holds this tablet can read what is on it",
    "lock.settings": "Passphrase, PIN",
    "lock.show": "Show what I type",
    "lock.stood": "As it stood at {time}, when it was locked:",
    "lock.test_since": "since {time}",
    "lock.title": "Passphrase and PIN",
    "lock.to_cases": "Go to the cases",
    "lock.use_passphrase": "With the passphrase",
    "lock.use_server": "Sign in at the server",
    "lock.who": "Who",
    "lock.windows": "Close the other windows of Wiremark on this tablet first.",
    "lock.working": "One moment.",
    "lock.wrong": "This passphrase does not open the tablet. Nothing is lost.",
    "store.locked": "This tablet is locked.",
    "store.no_server": (
        "This tablet is not enrolled at a server yet: without unlocking it could keep"
        " nothing that can be read again. Unlock it first; until then, on paper, with"
        " the time."
    ),
}
