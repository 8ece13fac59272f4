// What may move in a search, within which bounds, and the lamp for values of it.
import { checkDesign } from '../../checks/check.ts'
import { readLamp } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { type Parameter, parametersOf } from '../sweep/parameters.ts'
import { valueFault } from '../sweep/plan.ts'
import { type Choice, choicesOf } from './choices.ts'

export interface NumberMove {
  kind: 'number'
  /** A path of parametersOf. */
  path: string
  min: number
  max: number
}

export interface ChoiceMove {
  kind: 'choice'
  /** A path of choicesOf. */
  path: string
  keys: readonly string[]
}

export type Move = NumberMove | ChoiceMove

/** One for each move, in their order. */
export type Values = readonly (number | string)[]

export interface Movable {
  numbers: readonly Parameter[]
  choices: readonly Choice[]
}

export const movableOf = (lamp: Lamp): Movable => ({ numbers: parametersOf(lamp), choices: choicesOf(lamp) })

/** Why such a move can't be tried, in a sentence, or null. */
export function moveFault({ numbers, choices }: Movable, move: Move): string | null {
  if (move.kind === 'choice') {
    const choice = choices.find((c) => c.path === move.path)
    if (!choice) return `${move.path}: this lamp has no such choice.`
    if (move.keys.length < 2) return `${move.path}: name two at least.`
    const unknown = move.keys.find((key) => !choice.options.some((o) => o.key === key))
    if (unknown !== undefined) return `${move.path}: there is no ${unknown}.`
    return new Set(move.keys).size < move.keys.length ? `${move.path}: one stands twice.` : null
  }
  const parameter = numbers.find((p) => p.path === move.path)
  if (!parameter) return `${move.path}: this lamp has no such number.`
  const why = valueFault(parameter, move.min) ?? valueFault(parameter, move.max)
  if (why) return `${move.path}: ${why}`
  return move.min < move.max ? null : `${move.path}: the lower bound must be below the upper one.`
}

/** The finest step of a number: a power of ten, below a two-thousandth of its range. No workshop sets it finer. */
const stepOf = ({ min, max }: NumberMove): number => 10 ** Math.floor(Math.log10((max - min) / 2000))

/** From a place between 0 and 1 to a value within the bounds, in steps that can be written down. */
export function valueAt(move: NumberMove, place: number, integer: boolean): number {
  const raw = move.min + place * (move.max - move.min)
  if (integer) return Math.round(raw)
  const step = stepOf(move)
  return Number(Math.min(move.max, Math.max(move.min, Math.round(raw / step) * step)).toPrecision(12))
}

export const placeOf = ({ min, max }: NumberMove, value: number): number =>
  Math.min(1, Math.max(0, (value - min) / (max - min)))

/** The lamp's own value, or the end next to it; of a choice the first where it has none of them. */
export function ownValues(movable: Movable, moves: readonly Move[]): Values {
  return moves.map((move) => {
    if (move.kind === 'choice') {
      const own = movable.choices.find((c) => c.path === move.path)?.value
      return own && move.keys.includes(own) ? own : (move.keys[0] ?? '')
    }
    const own = movable.numbers.find((p) => p.path === move.path)?.value ?? (move.min + move.max) / 2
    return Math.min(move.max, Math.max(move.min, own))
  })
}

/** The lamp's own values wherever they lie, outside the bounds too: what a search is compared with. */
export const standingValues = (movable: Movable, moves: readonly Move[]): Values =>
  ownValues(movable, moves).map((within, i) => {
    const path = moves[i]?.path
    const own = movable.numbers.find((p) => p.path === path) ?? movable.choices.find((c) => c.path === path)
    return own?.value ?? within
  })

/** Choices first: they decide which numbers there are. A number that the lamp no longer has is left out. */
export function withMoves(lamp: Lamp, moves: readonly Move[], values: Values): Lamp {
  const rows = moves.map((move, i) => ({ move, value: values[i] }))
  const chosen = rows.reduce((at, { move, value }) => {
    if (move.kind !== 'choice') return at
    return (
      choicesOf(at)
        .find((c) => c.path === move.path)
        ?.write(at, String(value)) ?? at
    )
  }, lamp)
  return rows.reduce((at, { move, value }) => {
    if (move.kind !== 'number') return at
    return (
      parametersOf(at)
        .find((p) => p.path === move.path)
        ?.write(at, Number(value)) ?? at
    )
  }, chosen)
}

/** Rules of the design that a lamp breaks gravely as it stands. */
export const brokenRules = (lamp: Lamp): string[] => [
  ...new Set(checkDesign(lamp).flatMap((f) => (f.severity === 'severe' ? f.rule : []))),
]

/**
 * The lamp for such values, or why there is none: its document is invalid, or it breaks gravely a rule of the design that is not among `accepted`. Without
 * that a search would leave for what nobody can build, such as a collimator narrower than its emitter lets it be.
 */
export function lampFor(
  lamp: Lamp,
  moves: readonly Move[],
  values: Values,
  accepted: readonly string[],
): { ok: true; lamp: Lamp } | { ok: false; why: string } {
  const changed = withMoves(lamp, moves, values)
  const read = readLamp(changed)
  if (!read.ok) return { ok: false, why: read.why[0] ?? 'No such lamp can stand.' }
  const severe = checkDesign(changed).find((f) => f.severity === 'severe' && !accepted.includes(f.rule))
  return severe ? { ok: false, why: severe.title } : { ok: true, lamp: changed }
}
