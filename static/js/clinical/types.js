/**
 * Shapes of what is computed; no code. Numbers are exact decimals as text, keys as in
 * `webapp/clinical/`, whose docstrings give meanings and units.
 *
 * @typedef {{n: bigint, d: bigint}} Exact a fraction, d above zero, no factor in common
 *
 * @typedef {{[key: string]: string}} Limits policy rows that apply, by key; absent is silent
 *
 * @typedef {object} Dial
 * @property {Exact[]} positions ascending, above zero
 * @property {[Exact, Exact, Exact][]} steps from, to, step of each segment
 * @property {boolean} known false: 0.1 steps stand in for a table nobody entered
 *
 * @typedef {"fits" | "look_again" | "look_now"} Weight
 * @typedef {object} Remark
 * @property {string} code its words stand under clinical.remark.<code>
 * @property {Weight} weight
 * @property {{[name: string]: string}} values as shown
 * @property {string[]} limits keys of the policy rows that decided it
 * @property {string} asks code of what policy asks, or ""
 *
 * @typedef {object} LimitRow
 * @property {string} value
 * @property {string} shown with its unit, as read aloud
 * @property {string} unit UCUM
 * @property {string} ages
 * @property {string} meaning
 * @property {string} source
 * @property {string} word how far the source carries
 * @property {string} [kind] "range": `value` holds both ends, "0.1, 0.5"; "numbers": several, "48, 72"; "texts": several words
 * @typedef {{version: string, rows: {[key: string]: LimitRow}, card: string, no_bands: string[], roles?: string, digest?: string}} Policy roles: who may test the threshold; limits kept earlier have none
 *
 * @typedef {"captures" | "no_capture" | "cannot_tell"} Result
 * @typedef {object} Reading
 * @property {string} output
 * @property {Result} result
 * @property {string | null} [rate] pacing rate in use, /min; null: not said
 * @property {string | null} [own_rate] own rhythm then, /min; null: none or not known
 * @property {boolean} [pads_pacing]
 * @typedef {{counts_as: Result, why: string}} Counted
 *
 * @typedef {object} OwnRhythm
 * @property {string | null} result rhythm, none, not_tested, not_tolerated; null: not asked
 * @property {string | null} rate_per_min
 * @property {boolean | null} is_tolerated
 * @property {boolean | null} is_called_reliable
 * @typedef {{is_dependent: boolean, why: string}} Dependence
 *
 * @typedef {object} TestContext
 * @property {boolean} [is_dependent]
 * @property {boolean} [is_ordered]
 * @property {string} [unit]
 *
 * @typedef {object} TestFacts What the remarks on one test look at.
 * @property {Dial} dial
 * @property {string} unit
 * @property {Exact | null} low
 * @property {Exact | null} threshold
 * @property {Exact | null} at_most
 * @property {[Exact, Result][]} marks each output and how it counts, in the order read
 *
 * @typedef {object} ThresholdTest
 * @property {string | null} threshold
 * @property {{low: string, high: string} | null} bracket
 * @property {string} method
 * @property {string | null} at_most
 * @property {string | null} none_up_to
 * @property {string | null} tier
 * @property {boolean} clean
 * @property {boolean} may_repeat
 * @property {Counted[]} counted
 * @property {Remark[]} remarks heavier first
 *
 * @typedef {{output: string | null, ends: string, is_highest: boolean}} NextOutput
 *
 * @typedef {object} PolicyAsks
 * @property {string | null} output
 * @property {string} unit
 * @property {string | null} multiple
 * @property {boolean} is_minimum
 * @property {string} capped the margin left at the dial's highest, or ""
 * @property {boolean} dial_known
 * @property {string} why_none
 *
 * @typedef {object} SensitivityAsks
 * @property {string | null} sensitivity mV
 * @property {string} words above_fraction, cannot_go_low_enough, not_measured, or ""
 * @property {boolean} dial_known
 *
 * @typedef {object} Setting
 * @property {string | null} output read back by a person
 * @property {string} [unit]
 * @property {boolean} [is_final]
 * @property {boolean} [at_handover]
 *
 * @typedef {object} Margin
 * @property {string} shown "1.9 ×" or "unknown"
 * @property {string} verdict
 * @property {boolean} at_least
 * @property {boolean} below_target
 * @property {Remark[]} remarks
 * @property {"" | "other_width" | "width_not_told"} why unknown: not comparable, because
 *
 * @typedef {object} StandingRow A row of the record that no strike takes out.
 * @property {string} id
 * @property {string} path
 * @property {{[child: string]: any}} value any: what was kept, judged where it is read
 * @property {string} log
 * @property {number} time_ms its own moment, else when it was entered
 * @property {number} place
 *
 * @typedef {{n: string | null, why: string}} Point one exact number, or none and why not
 * @typedef {{is_adult: boolean, age_known: boolean}} AgeClass
 *
 * @typedef {object} Size What is known of age and size; null where not known.
 * @property {Exact | null} years
 * @property {Exact | null} weight_kg
 * @property {Exact | null} height_cm
 * @property {string} by_look
 * @property {boolean} [is_settled] false where several answers tell of the age
 *
 * @typedef {object} Pads Everything said about pads and skin pacing, each in time.
 * @property {StandingRow[]} states
 * @property {StandingRow[]} spells
 * @property {StandingRow[]} stops
 *
 * @typedef {{code: string, time_ms: number, place: number, test: {time_ms: number, place: number} | null}} Change after which a test no longer counts; `test`: the one it ends, null for all before
 * @typedef {{id: string, why: string}} LeftOut kept and shown, never computed with
 *
 * @typedef {object} ToldTest
 * @property {string} id its row, "" for readings that name no test
 * @property {string} part
 * @property {string} unit
 * @property {string} kind
 * @property {string | null} width_ms pulse width of a test in volts, null where not known
 * @property {string | null} set_output
 * @property {boolean} pads_ready
 * @property {boolean} doctor_present
 * @property {boolean} is_ordered all made on one tablet
 * @property {number} time_ms of its last row
 * @property {number} place of its last row
 * @property {string[]} ids
 * @property {Reading[]} readings
 * @property {LeftOut[]} left_out
 *
 * @typedef {object} LeftAt
 * @property {string} id
 * @property {string | null} output
 * @property {string} unit
 * @property {boolean} is_final
 * @property {number} time_ms
 * @property {string} why
 * @property {string | null} width_ms pulse width of an output in volts, null where not known
 *
 * @typedef {object} Around What stands around the readings of a test.
 * @property {Dial} dial
 * @property {LeftAt[]} left
 * @property {any} usual_width any: the generator's pulse width as kept
 * @property {StandingRow[]} own
 * @property {Pads} pads
 *
 * @typedef {object} Tested
 * @property {ToldTest} told
 * @property {ThresholdTest} result
 * @property {NextOutput} next
 * @property {("full" | "margin_shown")[]} offered
 * @property {boolean} stands
 *
 * @typedef {object} WireCase What the record says around one wire's threshold.
 * @property {AgeClass} age
 * @property {Limits} limits
 * @property {Dependence} dependence
 * @property {Dial} dial
 * @property {boolean} is_voltage
 * @property {LeftAt | null} left_at
 * @property {Change[]} changes
 * @property {Tested[]} tests
 *
 * @typedef {object} ThresholdSummary
 * @property {string} wire
 * @property {string} unit
 * @property {AgeClass} age
 * @property {Dependence} dependence
 * @property {boolean} dial_known
 * @property {Tested[]} tests
 * @property {string | null} counted
 * @property {string | null} threshold
 * @property {string | null} at_most
 * @property {string | null} none_up_to
 * @property {{low: string, high: string} | null} bracket
 * @property {string} method
 * @property {string | null} tier
 * @property {string} retest
 * @property {PolicyAsks} asks
 * @property {LeftAt | null} left_at
 * @property {Margin} margin
 * @property {{[name: string]: string}} shown
 * @property {Remark[]} remarks heavier first
 * @property {LeftOut[]} left_out
 */
export {};
