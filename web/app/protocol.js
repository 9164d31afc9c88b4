/**
 * What crosses between the page and the engine. Types only; nothing here runs.
 *
 * Sheet coordinates are CSS pixels, y down. The page does no geometry of its own: everything it
 * draws, says or picks comes in a reply.
 */

/** @typedef {"set-up"|"extended"|"point"|"polygon"} View */

/** @typedef {"edge"|"ground"|"body"|"construct"|"force"|"pivot"|"label"|"overlay"} Layer */

/**
 * A stretch of text in one style.
 * @typedef {object} Run
 * @property {string} text
 * @property {string} role
 * @property {number} [dx]
 * @property {number} [dy]
 */

/**
 * Text for people: a plain string, or runs where symbols stand among words.
 * @typedef {string|Run[]} Words
 */

/**
 * One primitive of a picture.
 * @typedef {object} PictureRecord
 * @property {string} id
 * @property {"path"|"circle"|"text"} tag
 * @property {string} role
 * @property {Layer} layer
 * @property {Record<string, string>} attrs
 * @property {Run[]} [runs]
 * @property {string} [of] the entity or force it belongs to
 * @property {"always"|"lit"} [shown]
 * @property {string} [name] what a screen reader calls it
 */

/**
 * Something a hand can pick.
 * @typedef {object} Target
 * @property {string} of
 * @property {string} grip
 * @property {"dot"|"line"|"area"} shape
 * @property {Array<[number, number]>} points_px
 * @property {number} rank lower is picked first where things stack
 * @property {string} name
 * @property {boolean} [selected_only]
 * @property {string} [locked] why it cannot move
 * @property {string} [cursor]
 * @property {{name: string, args: Record<string, unknown>}} [command] pressed instead of held
 * @property {string} [lights] what it lights instead of `of`
 */

/**
 * @typedef {object} Picture
 * @property {number} width
 * @property {number} height
 * @property {PictureRecord[]} records
 * @property {Target[]} [targets]
 */

/**
 * @typedef {object} Option
 * @property {string} value
 * @property {string} text
 */

/**
 * A quantity or choice of the selected thing, or of the sketch's settings.
 * @typedef {object} Field
 * @property {string} key
 * @property {string} label
 * @property {"quantity"|"text"|"choice"|"switch"|"answer"|"action"|"show"|"meter"} kind
 * @property {string} text a switch is "true" or "false"
 * @property {string} unit
 * @property {string} spoken the label in full for a screen reader
 * @property {Option[]} [options]
 * @property {string} [locked] why it cannot be changed
 * @property {string} [command] of an action
 * @property {Record<string, unknown>} [args] of an action
 * @property {Record<string, unknown>} [show] what a "show" button asks to be shown
 * @property {Meter} [meter] of a bar that shows what is needed beside what is there
 */

/**
 * What is needed beside what is there: f/N against μ, or where on its face a normal acts.
 * @typedef {object} Meter
 * @property {string} key
 * @property {Run[]} runs
 * @property {string} spoken
 * @property {number|null} share how far it is filled, from 0 to 1; null for words without a bar
 * @property {number|null} from where the filling begins, when it is a range
 * @property {number|null} mark where its limit stands; null where its ends are the limits
 * @property {boolean} over more is needed than there is
 */

/**
 * @typedef {object} FieldGroup
 * @property {string} key "main", "guess", "parts" or "more"
 * @property {string} label
 * @property {Field[]} items
 */

/**
 * @typedef {object} Fields
 * @property {string} of
 * @property {string} title
 * @property {Run[]} symbol
 * @property {string} icon
 * @property {string} role "known", "unknown", "body" or "pivot"
 * @property {FieldGroup[]} groups
 */

/**
 * @typedef {object} Verdict
 * @property {string} kind
 * @property {string} headline
 * @property {string} sentence
 * @property {{kind: string, sentence: string}} balanced
 * @property {string} near
 * @property {string} detail
 */

/**
 * @typedef {object} Cell
 * @property {string} key
 * @property {Run[]} runs
 * @property {number} [sense] +1 counterclockwise, -1 clockwise
 * @property {string} [spoken]
 */

/**
 * @typedef {object} TableRow
 * @property {string} id
 * @property {"known"|"unknown"} role
 * @property {boolean} guess
 * @property {Cell[]} cells
 * @property {string} spoken
 * @property {Meter[]} meters
 */

/**
 * @typedef {object} Table
 * @property {Array<{key: string, label: string, spoken: string, positive?: Sense}>} columns
 * @property {TableRow[]} rows
 * @property {Array<{key: string, label: Run[], runs: Run[], spoken: string, positive: Sense}>} totals
 */

/**
 * @typedef {object} OutlineEntry
 * @property {string} id
 * @property {string} kind
 * @property {string} symbol
 * @property {string} name
 * @property {string} spoken
 * @property {number} level
 */

/**
 * @typedef {object} Hint
 * @property {string} key
 * @property {string} of
 * @property {string} grip
 * @property {string} text
 */

/**
 * A piece of a sentence; `of` names the force it lights with, `italic` an index that names a quantity.
 * @typedef {object} SentenceRun
 * @property {string} text
 * @property {"word"|"symbol"|"sub"} role
 * @property {string} [of]
 * @property {boolean} [italic]
 */

/**
 * A MathML element: tag, attributes, and its children or its text.
 * @typedef {[tag: string, attributes: Record<string, string>, children: Array<MathNode|string>]} MathNode
 */

/**
 * The positive sense of a sum: an axis at an angle, or a turning sense (+1 counterclockwise).
 * @typedef {{kind: "axis", angle_deg: number, words: string}|{kind: "turn", turn: number, words: string}} Sense
 */

/**
 * One line of mathematics. `text` is how it is read aloud.
 * @typedef {object} WorkingLine
 * @property {string} kind
 * @property {boolean} underlined
 * @property {MathNode[]} rows
 * @property {string} text
 * @property {string[]} forces
 * @property {string[]} [digits] in a preview, what the numbers of the rows read now, in reading order
 */

/**
 * @typedef {object} WorkingStep
 * @property {string} kind
 * @property {SentenceRun[]} title
 * @property {SentenceRun[][]} why
 * @property {Sense|null} sense
 * @property {WorkingLine[]} lines
 * @property {SentenceRun[][]} remarks
 * @property {Array<{entity: string, forces: string[], stops: string[], sentence: SentenceRun[]}>} contacts
 * @property {[number, number]|null} point
 * @property {[number, number]|null} axis
 * @property {string[]} finds
 * @property {string} [of] the thing of the board its torques are taken about
 */

/**
 * A sum a user may put first: `place` 1 is the first, 0 is left to the tool.
 * @typedef {{key: string, text: string, place: number}} FirstSum
 */

/**
 * The working: the revealed steps, how many there are, and how it can be read. A preview has only the steps.
 * @typedef {object} WorkingPanel
 * @property {WorkingStep[]} steps
 * @property {number} total
 * @property {boolean} geometry there is a working by geometry too
 * @property {FirstSum[]} sums
 */

/**
 * One component (or size, or couple) of a guess: how its heading stands, what its sum lacks, and why.
 * @typedef {object} ArgumentStage
 * @property {string} part
 * @property {string} verdict
 * @property {boolean|null} agrees
 * @property {SentenceRun[]} title
 * @property {string} mark
 * @property {string} sum
 * @property {SentenceRun[][]} sentences
 */

/**
 * A button: a command (`moves`: the arrow is seen moving there), or a way of showing.
 * @typedef {object} ArgumentAction
 * @property {string} key
 * @property {SentenceRun[]} label
 * @property {string} [command]
 * @property {Record<string, unknown>} [args]
 * @property {boolean} [moves]
 * @property {Record<string, unknown>} [show]
 */

/**
 * The same unknown drawn one way and the other.
 * @typedef {object} BothWays
 * @property {string} part
 * @property {SentenceRun[]} asDrawnTitle
 * @property {SentenceRun[]} otherWayTitle
 * @property {WorkingStep} asDrawn
 * @property {WorkingStep} otherWay
 * @property {SentenceRun[]} sentence
 */

/**
 * What is said about a guess, instead of one, or about a minus.
 * @typedef {object} Argument
 * @property {"argument"|"invite"|"minus"} kind
 * @property {string} of
 * @property {SentenceRun[]} headline
 * @property {SentenceRun[][]} [lead]
 * @property {SentenceRun[]|null} [caution]
 * @property {ArgumentStage[]} [stages]
 * @property {SentenceRun[]|null} [answer]
 * @property {{headline: SentenceRun[], lead: SentenceRun[][], actions: ArgumentAction[]}|null} [minus]
 * @property {BothWays|null} [both]
 * @property {ArgumentAction[]} actions
 */

/**
 * A point worth taking torques about, or an axis worth summing along. `key` is that of its mark on the board.
 * @typedef {object} PivotTry
 * @property {string} key
 * @property {SentenceRun[]} sentence
 * @property {boolean} here the pivot is there already
 * @property {{name: string, args: Record<string, unknown>}|null} command
 */

/**
 * What pivots change: where else to put them, how a torque is written, and the same sum about two points.
 * @typedef {object} Pivots
 * @property {PivotTry[]} tries
 * @property {{value: string, options: Array<{value: string, spoken: string, runs: SentenceRun[]}>}} forms
 * @property {string} turning_word
 * @property {string} pivot_word
 * @property {boolean} pinned
 * @property {{first: WorkingStep, second: WorkingStep, change: WorkingStep|null, sentence: SentenceRun[]}|null} compare
 * @property {SentenceRun[]|null} missing what keeps the two sums from being worked out
 */

/**
 * What reasons beside the board while the tab "Working" is open.
 * @typedef {object} Reasoning
 * @property {Argument|null} argument
 * @property {WorkingPanel|null} working
 * @property {Pivots|null} pivots
 */

/**
 * How the working is read: the open tab ("" is a closed drawer), how many steps are revealed, with numbers or in
 * symbols only, by sums or by geometry, and the user's own first sums.
 * @typedef {object} Study
 * @property {""|"working"|"forces"} side
 * @property {number} revealed
 * @property {boolean} numbers
 * @property {"sums"|"geometry"} way
 * @property {string[]} order
 */

/** @typedef {{id: string, symbol: Run[], role: "known"|"unknown"|"guess", spoken: string}} ChainForce */

/**
 * The forces in the order they are laid head to tail, where they are drawn alone.
 * @typedef {{forces: ChainForce[]}} Chain
 */

/**
 * The track of one number of the selected thing; shares are of its length.
 * @typedef {object} Track
 * @property {string} of
 * @property {string} key the field that changes the number
 * @property {string} path
 * @property {string} label
 * @property {string} unit
 * @property {Option[]} numbers
 * @property {number} low
 * @property {number} high
 * @property {number} value
 * @property {number} step
 * @property {[string, string]} ends
 * @property {string} spoken
 * @property {Array<[number, number]>} safe
 * @property {Array<{share: number, text: string, main: boolean, sentence: string}>} changes
 * @property {string} said
 */

/**
 * How sure one quantity of a reaction is.
 * @typedef {object} UnsureRow
 * @property {string} key
 * @property {string} of id of the force
 * @property {Run[]} symbol
 * @property {string} note
 * @property {string} value with its half-width
 * @property {string} most what matters most
 * @property {string} worst the least and greatest over all half-widths at once; "" where that is not found
 */

/**
 * @typedef {object} Unsure
 * @property {UnsureRow[]} rows
 * @property {string} said why there are none
 * @property {string} hint
 * @property {string} of what the fields belong to, "" for the sketch itself
 * @property {Field[]} fields a half-width each
 */

/**
 * @typedef {object} Problem
 * @property {SentenceRun[][]} sentences
 * @property {string} text
 */

/**
 * The third-law partner of a force, with a picture of its own.
 * @typedef {object} Partner
 * @property {string} of the force it is the partner of
 * @property {Run[]} symbol
 * @property {string} title the other body
 * @property {string} name
 * @property {string} sentence
 * @property {Picture} picture
 */

/** @typedef {{text: string}} Said */

/**
 * What happens when the body is let go; with a motion, the path of the outline of each body that moves, and a transform of it for each moment.
 * @typedef {object} LetGo
 * @property {Run[][]} words
 * @property {Said} assumed
 * @property {{outlines: {path: string, transforms: string[]}[], times: number[], stamps: Said[], ending: Said, energy: Said}|null} motion
 */

/**
 * A body, or a thing on one, that can be in the system; `ids` are those of the system once it is pressed.
 * @typedef {{id: string, name: string, kind: "body"|"thing", on: boolean, ids: string[]}} SystemChoice
 */

/**
 * What is taken as one: its name, whether it is the body of what is selected, and what else could be in it.
 * @typedef {{title: string, names: string, several: boolean, follows: boolean, choices: SystemChoice[], whole: string[]}} SystemPanel
 */

/** @typedef {{offered: boolean, shown: LetGo|null}} Release offered where it would not stay as it stands */

/**
 * @typedef {object} Panels
 * @property {Chain|null} chain
 * @property {string} title
 * @property {string} question
 * @property {string} caution
 * @property {Verdict} verdict
 * @property {Table} table
 * @property {Track|null} track null where no number is tracked, and while answers are kept back
 * @property {Unsure|null} unsure null while its tab is closed, and while answers are kept back
 * @property {Problem|null} problem null while its tab is closed
 * @property {Partner|null} partner
 * @property {Release} release
 * @property {Fields|null} fields
 * @property {OutlineEntry[]} outline
 * @property {SystemPanel|null} system null with one body only; left out of a preview
 * @property {Field[]} settings
 * @property {Hint[]} hints
 * @property {{undo: string|null, redo: string|null}} history
 * @property {"kept"|"shown"} answers
 * @property {boolean} empty
 * @property {string} spoken
 * @property {Reasoning|null} reasoning
 * @property {string} note what the engine made of what was typed, e.g. that a mass became a weight
 */

/**
 * @typedef {object} GestureReading
 * @property {string} of
 * @property {string} grip
 * @property {string} readout
 * @property {string} [snapped]
 */

/**
 * @typedef {object} Entry
 * @property {string} label
 * @property {unknown} forward
 * @property {unknown} backward
 */

/**
 * The reply to everything that succeeds.
 * @typedef {object} StateReply
 * @property {number} seq
 * @property {true} ok
 * @property {number} revision
 * @property {boolean} preview
 * @property {View} view
 * @property {string|null} selected
 * @property {Study} study
 * @property {Picture} picture
 * @property {Picture} strips
 * @property {Panels} panels
 * @property {GestureReading|null} gesture
 * @property {string|null} created
 * @property {Entry|null} [entry]
 * @property {string|null} [document]
 */

/**
 * @typedef {object} Complaint
 * @property {string} code
 * @property {string} where
 * @property {string} message
 * @property {string} hint
 */

/** @typedef {{seq: number, ok: false, error: Complaint}} FailureReply */

/**
 * @typedef {object} Tool
 * @property {string} name
 * @property {string} label
 * @property {string} group
 * @property {string} [key] the letter that chooses it while the board has the focus
 * @property {string} [help]
 * @property {string} [alone] its help where forces are drawn alone; without it, it is of no use there
 */

/** @typedef {{group: string, tools: Tool[]}} ToolGroup */

/**
 * @typedef {object} Scenario
 * @property {string} slug
 * @property {string} title
 * @property {string} question
 */

/**
 * @typedef {object} Hello
 * @property {string} version
 * @property {string} build
 * @property {Scenario[]} scenarios
 * @property {Array<{group: string, tools: Tool[]}>} tools
 */

/** @typedef {{do: string, [name: string]: unknown}} Message */

/** @typedef {{request(message: Message): Promise<any>}} Door */

export {};
