"""What is said to and about people and tablets, and by receipt."""

PEOPLE: dict[str, str] = {
    "because.at": "It does not say when it was made.",
    "because.author": "It does not say who made it.",
    "because.cannot_open": "This server could not open its seal.",
    "because.desk_only": "This is written at the workstation only.",
    "because.op": "This field does not take that kind of entry.",
    "because.path": "This server has no such field.",
    "because.revoked": "The tablet was revoked before this arrived.",
    "because.seen": "It says it has seen an entry of another field or record.",
    "because.strike": "It strikes what is no row of the same field.",
    "because.unreadable": "Its content could not be read.",
    "because.value": "Its value is not of the kind this field takes.",
    "because.version": "A newer version of Wiremark made it.",
    "conflict.taken": "Another entry already stands under this id or in this place.",
    "refused.header": "Its header could not be read.",
    "refused.log": "Its log belongs to another tablet.",
    "refused.size": "It is larger than one entry may be.",
    "people.added": "{name} may sign in as {login}.",
    "people.deactivated": "{name} can no longer sign in.",
    "people.deactivated_word": "deactivated",
    "people.login_shape": (
        "The sign-in name takes 1 to 64 visible signs, no spaces, and does not"
        " begin with @."
    ),
    "people.login_taken": "The sign-in name {login} is taken.",
    "people.name_length": "The name takes 1 to {most} signs.",
    "people.npi": (
        "The NPI takes ten digits, the last of them the check digit. Look it up again."
    ),
    "people.password": "The password takes {least} to {most} signs.",
    "people.password_changed": "{name} has a new password; older sessions ended.",
    "people.reactivated": "{name} can sign in again.",
    "people.roles": "Give at least one role of: {roles}.",
    "people.unknown": "Nobody has the sign-in name {login}.",
    "sign_in.again": "That is not the right password, or there were too many tries.",
    "sign_in.heading": "Sign in",
    "sign_in.key": "Sign in",
    "sign_in.login": "Sign-in name",
    "sign_in.needed": "Give the {label}.",
    "sign_in.password": "Password",
    "sign_in.refused": (
        "Not signed in: the name or the password is not right, the account is"
        " closed, or there were too many tries. After {tries} failures wait"
        " {minutes} minutes."
    ),
    "sync.expected": "Expected: {expected}.",
    "tablets.add": "Add a tablet",
    "tablets.added": "Enrol {name} with this code",
    "tablets.code_use": (
        "On the tablet open /tablet/enrol and type the code. It works once, within"
        " {hours} hours."
    ),
    "tablets.col.added": "Added",
    "tablets.col.enrolled": "Enrolled",
    "tablets.col.held_back": "Announced, not delivered",
    "tablets.col.keys": "What can be done",
    "tablets.col.last_seen": "Last seen",
    "tablets.col.name": "Tablet",
    "tablets.col.state": "State",
    "tablets.enrol_refused": (
        "The code is not right, was used, or is too old. Ask for a new one."
    ),
    "tablets.enrol_wait": "Too many tries from here. Wait {minutes} minutes.",
    "tablets.heading": "Tablets",
    "tablets.held_back": "{count} announced, not delivered",
    "tablets.key.add": "Add and show its code",
    "tablets.key.renew": "New code",
    "tablets.key.revoke": "Revoke",
    "tablets.name": "Name, as written on it",
    "tablets.name_length": "The tablet's name takes 1 to {most} visible signs.",
    "tablets.name_taken": "A tablet is already called {name}.",
    "tablets.never_seen": "never seen",
    "tablets.none": "No tablet yet.",
    "tablets.not_yet": "not yet",
    "tablets.once": "This code is shown once. It is not kept in a readable form.",
    "tablets.revoke_note": (
        "What a revoked tablet still sends is kept and set aside; it is told nothing"
        " more. A new code lets it in again."
    ),
    "tablets.revoked": "{name} is revoked: what it sends is set aside.",
    "tablets.state.enrolled": "enrolled",
    "tablets.state.revoked": "revoked",
    "tablets.state.waiting": "waiting for its code to be used",
    "tablets.unknown": "No tablet is called {name}.",
}
