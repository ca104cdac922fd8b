"""What computed results say: remarks, what policy asks, and the words beside numbers.

Each finding has at most 46 characters as filled (a test holds it), says what was read
and whose limit it is, and orders nothing.
"""

CLINICAL: dict[str, str] = {
    "clinical.weight.fits": "Fits",
    "clinical.weight.look_again": "Look again",
    "clinical.weight.look_now": "Look now",
    "clinical.limit": "{meaning}: {shown} ({source}; {word}).",
    "clinical.word.derived": "worked out from other values",
    "clinical.word.found-2": "found in a second source",
    "clinical.word.memory": "from memory, to be verified",
    "clinical.limits_version": "Limits version {version}.",
    "clinical.asks.output": "Policy asks {asked} {unit}.",
    "clinical.asks.pace_above_own": "Policy asks own rhythm + {above} /min or more.",
    "clinical.asks.reposition": "Policy asks: reposition, or say why not.",
    "clinical.remark.below_floor": "Margin {margin}, below {floor}",
    "clinical.remark.bracket_wide": "Wide bracket, {low} to {high} {unit}",
    "clinical.remark.clean_test": "One clean test, {low} to {high} {unit}",
    "clinical.remark.contradictory": (
        "Captures at {captured}, none at {lost} {unit}: no value"
    ),
    "clinical.remark.left_below_minimum": (
        "Dial left at {output}; policy asks {asked} {unit}"
    ),
    "clinical.remark.margin_at_least": (
        "Captures at {threshold} of {output} {unit}, loss not sought"
    ),
    "clinical.remark.margin_holds": "Margin {margin} at {output} {unit}",
    "clinical.remark.margin_holds_below_target": (
        "Margin {margin} holds; policy target {target}"
    ),
    "clinical.remark.margin_not_shown": "Margin at least {margin}, {floor} not shown",
    "clinical.remark.margin_other_width": "Margin unknown: other pulse width",
    "clinical.remark.margin_width_not_told": "Margin unknown: pulse width not told",
    "clinical.remark.needlessly_high": (
        "Margin {margin} at {output} {unit}: needlessly high"
    ),
    "clinical.remark.no_capture_up_to": "No capture up to {output} {unit}",
    "clinical.remark.no_output": "Captures at {output} {unit}: whose beat is this?",
    "clinical.remark.not_monotone": (
        "No capture at {lost}, captures at {captured} {unit}"
    ),
    "clinical.remark.noise_may_stop_pacing": (
        "Sensitivity {left_at} mV: noise may stop pacing"
    ),
    "clinical.remark.pads_pacing": "Pads still pacing: whose beat is this?",
    "clinical.remark.r_wave_low": "R wave {measured} mV: low",
    "clinical.remark.rate_too_close": (
        "Paced {rate}, own {own} /min: read as can't tell"
    ),
    "clinical.remark.rate_unsaid": "Own rhythm {own} /min, pacing rate not said",
    "clinical.remark.retest_balloon": "Margin unknown: balloon changed since the test",
    "clinical.remark.retest_cable": "Margin unknown: cable changed since the test",
    "clinical.remark.retest_depth": "Margin unknown: wire moved after the test",
    "clinical.remark.retest_generator": (
        "Margin unknown: other generator since the test"
    ),
    "clinical.remark.retest_old": "Margin unknown: test older than {hours} h",
    "clinical.remark.retest_repositioned": (
        "Margin unknown: repositioned after the test"
    ),
    "clinical.remark.retest_resecured": "Margin unknown: secured again since the test",
    "clinical.remark.several_tests": (
        "{count} tests, {low} to {high} {unit}: higher counts"
    ),
    "clinical.remark.tier_acceptable": "Threshold {threshold} {unit}: acceptable",
    "clinical.remark.tier_good": "Threshold {threshold} {unit}: good",
    "clinical.remark.tier_high": "Threshold {threshold} {unit}: high",
    "clinical.remark.tier_marginal": "Threshold {threshold} {unit}: marginal",
    "clinical.remark.unclear_above": (
        "Can't tell at {output}, above {threshold} {unit}"
    ),
    "clinical.remark.unclear_inside": (
        "Can't tell at {output}, within {low} to {high} {unit}"
    ),
    "clinical.remark.will_not_sense": (
        "Set {left_at} mV, measured {measured} mV: will not sense"
    ),
    "clinical.more.margin_at_least": (
        "Threshold at most {threshold} {unit}, margin at least {margin}."
    ),
    "clinical.more.margin_not_shown": (
        "Captures at {threshold} of {output} {unit}, loss not sought."
    ),
    "clinical.more.margin_other_width": (
        "Tested at {tested} ms, dial left at {left_at} ms: volts are not comparable."
    ),
    "clinical.more.margin_width_not_told": (
        "Tests at {low} to {high} ms, dial's not told: volts are not comparable."
    ),
    "clinical.retest": "re-test: {why}",
    "clinical.retest.balloon": "balloon changed",
    "clinical.retest.cable": "cable changed",
    "clinical.retest.depth": "depth changed",
    "clinical.retest.generator": "generator changed",
    "clinical.retest.old": "older than the policy allows",
    "clinical.retest.repositioned": "repositioned",
    "clinical.retest.resecured": "secured again, or sheath moved",
    "clinical.unknown": "unknown",
    "clinical.threshold": "{threshold} {unit}",
    "clinical.bracket": "{low} to {high} {unit}",
    "clinical.at_most": "≤ {at_most} {unit}, loss not sought",
    "clinical.none_up_to": "no capture up to {none_up_to} {unit}",
    "clinical.method.": "nothing read yet",
    "clinical.method.contradictory": (
        "captured and lost at the same or higher output: no value"
    ),
    "clinical.method.down": "on the way down, lost at {low} {unit}",
    "clinical.method.loss_not_sought": "loss not sought",
    "clinical.method.no_capture": "no capture",
    "clinical.method.unordered": (
        "lost at {low} {unit}; two tablets, order of readings not sure"
    ),
    "clinical.method.up": "on the way up, by dial steps",
    "clinical.dial_not_known": "dial steps not known",
    "clinical.output.multiple": "{multiple} × threshold",
    "clinical.output.minimum": "lowest output by policy",
    "clinical.output.capped": "capped, {capped}",
    "clinical.output.none.": "",
    "clinical.output.none.loss_not_sought": (
        "none from an upper bound: the output already set stands"
    ),
    "clinical.output.none.no_capture": "none: no capture",
    "clinical.output.none.no_multiple": "none: no multiple in the policy",
    "clinical.output.none.no_threshold": "none: threshold not known",
    "clinical.output.none.pulse_width": "none: not comparable, pulse width",
    "clinical.output.none.retest": "none: re-test",
    "clinical.sensitivity": "lower number = more sensitive",
    "clinical.sensitivity.": "",
    "clinical.sensitivity.above_fraction": "above {fraction} of what was measured",
    "clinical.sensitivity.cannot_go_low_enough": "the dial cannot go low enough",
    "clinical.sensitivity.not_measured": "none: not measured",
    "clinical.margin.at_least": "at least {margin}",
    "clinical.margin.below_floor": "below the floor",
    "clinical.margin.holds": "holds",
    "clinical.margin.needlessly_high": "needlessly high",
    "clinical.margin.not_shown": "floor not shown",
    "clinical.margin.unknown": "unknown",
    "clinical.child": "no child limit known here",
    "clinical.age_not_known": "age not known",
    "clinical.own.none": "no own rhythm",
    "clinical.own.not_asked": "own rhythm not asked",
    "clinical.own.not_called_reliable": "own rhythm not called reliable",
    "clinical.own.not_tested": "own rhythm not tested",
    "clinical.own.not_tolerated": "own rhythm not tolerated",
    "clinical.own.rate_not_known": "own rate not known",
    "clinical.own.reliable": "own rhythm reliable",
    "clinical.own.slow": "no own rhythm ≥ {least} /min with pacing turned down",
    "clinical.own.tolerance_not_said": "own rhythm: tolerated or not, not said",
    "clinical.next.": "",
    "clinical.next.dial_highest": "no output above is on the dial",
    "clinical.next.dial_lowest": "dial at its lowest",
    "clinical.next.margin_shown": "margin shown, test ends",
    "clinical.next.set_not_known": "output set at the start not said",
    "clinical.next.threshold_found": "threshold found, test ends",
    "clinical.counts.no_output": "no output: counts as can't tell",
    "clinical.counts.pads_pacing": "pads pacing: counts as can't tell",
    "clinical.counts.rate_too_close": "paced too close to own: counts as can't tell",
    "clinical.left_out.a_range": "a range, not one output",
    "clinical.left_out.absent": "no output said",
    "clinical.left_out.compared": "a bound, not one output",
    "clinical.left_out.impossible": "impossible, not computed with",
    "clinical.left_out.no_figure": "no figure, not computed with",
    "clinical.left_out.no_result": "no result said",
    "clinical.left_out.other_unit": "another unit than the test's",
    "clinical.left_out.unit_not_known": "unit not known, not computed with",
    "clinical.left_out.unreadable": "unreadable, not computed with",
    "clinical.kind.full": "full test",
    "clinical.kind.margin_shown": "margin shown, loss not sought",
}
