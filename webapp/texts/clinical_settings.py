"""What is said about settings: a test left open, modes by position, no sensing."""

CLINICAL_SETTINGS: dict[str, str] = {
    "clinical.remark.test_settings": "Test settings {setting} for {elapsed}",
    "clinical.remark.test_settings_unsaid": "Test settings for {elapsed}",
    "clinical.remark.test_settings_left": "Test settings never read back",
    "clinical.asks.read_back": "Policy asks: rate, output and mV read back.",
    "clinical.remark.asynchronous_standing": (
        "Asynchronous for {elapsed}: still needed?"
    ),
    "clinical.remark.asynchronous_left": "Asynchronous at the end, with own rhythm",
    "clinical.more.asynchronous_standing": (
        "An own rhythm is recorded; a beat may fall on its T wave."
    ),
    "clinical.remark.mode_but_asynchronous": (
        "{mode} read with sensitivity asynchronous"
    ),
    "clinical.remark.mode_without_atrial_wire": (
        "{mode} read, no atrial wire in this record"
    ),
    "clinical.mode.1.O": "paces nothing",
    "clinical.mode.1.A": "paces the atrium",
    "clinical.mode.1.V": "paces the ventricle",
    "clinical.mode.1.D": "paces atrium and ventricle",
    "clinical.mode.1.S": "paces one chamber",
    "clinical.mode.2.O": "senses nothing",
    "clinical.mode.2.A": "senses the atrium",
    "clinical.mode.2.V": "senses the ventricle",
    "clinical.mode.2.D": "senses atrium and ventricle",
    "clinical.mode.2.S": "senses one chamber",
    "clinical.mode.3.O": "no response to what is sensed",
    "clinical.mode.3.T": "a sensed beat triggers pacing",
    "clinical.mode.3.I": "a sensed beat holds pacing back",
    "clinical.mode.3.D": "a sensed beat triggers or holds back",
    "clinical.mode.4.": "rate modulation not said",
    "clinical.mode.4.O": "no rate modulation",
    "clinical.mode.4.R": "rate modulation",
    "clinical.mode.5.": "pacing at several sites not said",
    "clinical.mode.5.O": "no pacing at several sites",
    "clinical.mode.5.A": "several sites in the atrium",
    "clinical.mode.5.V": "several sites in the ventricle",
    "clinical.mode.5.D": "several sites in atrium and ventricle",
    "clinical.first.urgent": (
        "Policy asks first: {rate_low} to {rate_high} /min, {output} mA, {mode},"
        " {sensitivity} mV."
    ),
    "clinical.first.emergency": (
        "Policy asks first: {rate_low} /min, output maximum, {mode}, {sensitivity} mV."
    ),
    "clinical.first.emergency_asynchronous": (
        "Policy asks first: {rate_low} /min, output maximum, asynchronous ({mode})."
    ),
    "clinical.left.beside": "Policy asked {asked} {unit}; dial left at {left} {unit}.",
}
