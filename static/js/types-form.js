/** @import { Fold, How, Json, JsonObject, NewEntry, Person, Source, Store, Struck, Who } from "./types.js" */

/**
 * Shapes of questions, answers and the forms that hold them; no code. A name that ends
 * in `_ms` is Unix milliseconds.
 *
 * @typedef {object} ChoiceSpec One answer of a field, as catalogue.json holds it.
 * @property {string} code
 * @property {string} label
 * @property {boolean} [takes_text]
 *
 * @typedef {{low: string, high: string}} RangeSpec
 *
 * @typedef {"text" | "prose" | "yn" | "one" | "many" | "qty" | "moment" | "date" | "person" | "photo" | "drawing" | "group"} Kind
 *
 * @typedef {object} FieldSpec One question, as catalogue.json holds it.
 * @property {string} name
 * @property {string} label
 * @property {Kind} kind
 * @property {string[]} needs
 * @property {ChoiceSpec[]} choices
 * @property {string[]} units UCUM; the ranges and the step are in the first
 * @property {string} step exact decimal; "" none
 * @property {RangeSpec | null} hard
 * @property {RangeSpec | null} soft
 * @property {"all" | "adult"} soft_ages
 * @property {number | null} max_length in characters (code points)
 * @property {boolean} per_wire
 * @property {FieldSpec[]} children
 * @property {string} row_of
 * @property {JsonObject | null} asked_when
 * @property {string} hint
 *
 * @typedef {"ok" | "soft" | "impossible" | "absent" | "illegal"} ValueState How a value counts.
 *
 * @typedef {object} Verdict What a kind says about a value.
 * @property {ValueState} state
 * @property {{field: string, code: string, message: string}[]} problems
 *
 * @typedef {{num: bigint, den: bigint}} Fraction den above 0
 *
 * @typedef {{name: string, label: string, on_rail: boolean, sections: {title: string, note: string, fields: FieldSpec[]}[]}} PartSpec
 *
 * @typedef {object} FieldIndex The catalogue by path.
 * @property {PartSpec[]} parts
 * @property {(path: string) => {field: FieldSpec, part: PartSpec} | null} at
 * @property {(name: string) => PartSpec | null} part
 * @property {(name: string) => FieldSpec | null} top a field outside the parts
 *
 * @typedef {"answered" | "two_answers" | "not_known" | "not_done" | "not_asked" | "impossible"} AnswerState
 *
 * @typedef {object} AnswerRead What a path says.
 * @property {string} path
 * @property {FieldSpec | null} field
 * @property {AnswerState} state
 * @property {Json} value null unless there is one
 * @property {Json[]} heads
 * @property {string[]} entries
 * @property {string} words
 *
 * @typedef {{id: string, value: JsonObject, struck: Struck | null}} RowRead
 * @typedef {{id: string, name: string}} WireRead
 * @typedef {(path: string) => {values: Json[], ids: string[], rows: JsonObject[], unit?: string, units?: {[child: string]: string}}} ReadPath
 *
 * @typedef {object} CaseRead A folded record, read.
 * @property {Fold} fold
 * @property {FieldIndex} index
 * @property {(path: string) => AnswerRead} answer
 * @property {(path: string, struck?: boolean) => RowRead[]} rows
 * @property {WireRead[]} wires
 * @property {(wire?: string | null, row?: JsonObject | null) => ReadPath} read
 * @property {(field: FieldSpec, wire?: string | null) => boolean} isAsked
 * @property {(path: string) => string[]} pathsOf
 *
 * @typedef {object} QuestionRead One open question.
 * @property {string} path
 * @property {string} part
 * @property {string} label
 * @property {string} why
 * @property {string} need
 * @property {string[]} entries
 *
 * @typedef {object} Standing Who is at the tablet, and whose words are entered.
 * @property {Who} at the one who taps
 * @property {Who | null} author whose observation it is; null: the one who taps
 * @property {Who | null} called_by
 * @property {Source} source
 *
 * @typedef {object} Receipt What became of one entry.
 * @property {"kept" | "not_kept"} state
 * @property {string} label
 * @property {string} words
 * @property {number} ms
 * @property {string} [because]
 * @property {string} [act] the word on its key
 * @property {() => void} [onAct]
 * @property {string} [record] the case it was said in
 * @property {string} [of] that case, as people tell it apart
 * @property {string} [same] equal where a later receipt is about the same word, and takes its place
 *
 * @typedef {object} Saying Where something is said, and by whom.
 * @property {string} record
 * @property {Pick<NewEntry, "author" | "entered_by" | "called_by" | "source" | "how">} who
 * @property {string} of the case, as people tell it apart
 * @property {(id: string) => void} [kept] done once it is kept, also where it had to be tried again
 *
 * @typedef {object} Bedside What every form of the tablet works with.
 * @property {Store} store
 * @property {FieldIndex} index
 * @property {JsonObject} policy the limits that the open case began with
 * @property {JsonObject} form limits of this form
 * @property {Person[]} people
 * @property {Standing} standing
 * @property {string} record "" on Start
 * @property {CaseRead} now
 * @property {string | null} wire the wire the page is about; null: none yet
 * @property {(entry: Omit<NewEntry, "author">, said: {label: string, words: string}, at?: Partial<Saying> & {isTold?: boolean}) => Promise<string | null>} keep
 *   the entry's id once it is durable; null: not kept, and said so; isTold false: thrown, for the caller to say
 * @property {<T>(work: Promise<T>) => Promise<T>} during what is being written: the page is not left before its end
 * @property {(path: string, at?: Partial<Saying> & {isTold?: boolean}) => Promise<string>} pathFor the record's path of a catalogue path; makes the first wire
 * @property {(receipt: Receipt) => void} tell say what became of an entry
 * @property {() => void} refresh fold and draw all again, soon
 * @property {() => void} drawSoon draw again what a hand is about; the fields stay as they were drawn, unless the record changed
 * @property {boolean} isStale something but the log changed: draw the fields again too
 * @property {() => number} clock Unix milliseconds
 */

export {};
