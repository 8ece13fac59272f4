// What changed from one document to another, a line for each part and entry: "Boards: current 1 → 0.8 A (19 boards)".
import { type Change, changesBetween } from '../lamp/changes.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { entryLabel, unitOf } from './entryWords.ts'
import { duration } from './numbers.ts'
import { shownIn } from './sweep.ts'

/** Rows that have an id are matched by it, not by their place in the list. */
type Keyed = { [key: string]: unknown }

const NAMES: Record<string, string> = {
  emitterTypes: 'Emitter',
  opticTypes: 'Optic',
  boardTypes: 'Board type',
  boards: 'Board',
  elements: 'Further lens, cover or film',
  aimAt: 'Optics look at',
  reading: 'How it is read',
  powerUp: 'Power-up list',
  optic: 'Optic of every emitter',
  note: 'Note',
  name: 'Name',
  version: 'Version of the file',
}
interface Line {
  part: string
  /** One of many of its kind. */
  id: string | null
  words: string
}

/** Empty: the documents are alike. Names are as in the documents: escape them. */
export function changeLines(from: Lamp, to: Lamp, system: UnitSystem = 'metric'): string[] {
  const [light, others] = [
    lightLine(from, to, system),
    changesBetween(byId({ ...from, heat: null }), byId({ ...to, heat: null })),
  ]
  const lines = [...light, ...others.map((change) => lineOf(change, from, to, system))]
  const groups = new Map<string, Line[]>()
  for (const line of lines) {
    const key = JSON.stringify([line.part, line.words])
    groups.set(key, [...(groups.get(key) ?? []), line])
  }
  return [...groups.values()].map(groupWords)
}

/** Which light the beam is traced in, as one choice. */
function lightLine(from: Lamp, to: Lamp, system: UnitSystem): Line[] {
  const [was, is] = [lightWords(from, system), lightWords(to, system)]
  return was === is ? [] : [{ part: 'Light traced', id: null, words: `${was} → ${is}` }]
}

function lightWords({ heat, power }: Lamp, system: UnitSystem): string {
  const { word, inUnit } = shownAs('°C', system)
  if (heat?.kind === 'board') return `boards at ${digits(inUnit(heat.boardC))} ${word}`
  if (heat?.kind !== 'mode') return 'junctions as rated'
  const name = power?.modes.find((m) => m.id === heat.mode)?.name ?? heat.mode
  const { seconds } = heat
  const when =
    seconds === 0
      ? 'as switched on'
      : seconds >= LATEST_S
        ? 'when it ends'
        : `after ${seconds < 120 ? `${digits(seconds)} s` : duration(seconds)}`
  return `mode “${name}”, ${when}`
}

/** The schema's latest moment: of every mode that is its end. */
const LATEST_S = 1e7

const MOST_IDS = 3

function groupWords(group: readonly Line[]): string {
  const [first] = group
  if (!first) return ''
  const ids = group.flatMap(({ id }) => id ?? [])
  if (ids.length === 0) return `${first.part}: ${first.words}`
  if (ids.length <= MOST_IDS) return `${first.part} ${ids.join(', ')}: ${first.words}`
  return `${plural(first.part)}: ${first.words} (${ids.length} of them)`
}

const plural = (part: string): string => (part.endsWith('s') ? part : `${part}s`)

function byId(value: unknown): unknown {
  if (Array.isArray(value)) {
    const ids = value.map((row) => (row as { id?: unknown } | null)?.id)
    const unique = ids.every((id) => typeof id === 'string') && new Set(ids).size === ids.length
    return unique && value.length > 0
      ? Object.fromEntries(value.map((row) => [`#${(row as { id: string }).id}`, byId(row)]))
      : value.map(byId)
  }
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(Object.entries(value as Keyed).map(([key, inner]) => [key, byId(inner)]))
}

function lineOf(change: Change, from: Lamp, to: Lamp, system: UnitSystem): Line {
  const steps = change.at.map(String)
  const [top = '', second] = steps
  const id = second?.startsWith('#') ? second.slice(1) : null
  const entry = steps.slice(id === null ? 1 : 2)
  const part = NAMES[top] ?? sentenceCase(top)
  return { part, id: id === null ? null : nameOf(top, id, [to, from]), words: changeWords(change, top, entry, system) }
}

/** Types by their name, boards by their id. */
function nameOf(top: string, id: string, lamps: readonly Lamp[]): string {
  for (const lamp of lamps) {
    const rows = lamp[top as keyof Lamp]
    const row = Array.isArray(rows) ? (rows as { id?: string; name?: string }[]).find((r) => r.id === id) : undefined
    if (row?.name) return `“${row.name}”`
  }
  return id
}

function changeWords(change: Change, top: string, entry: readonly string[], system: UnitSystem): string {
  // Of a list of numbers no single one says anything.
  const isValue = /^\d+$/.test(entry.at(-1) ?? '') && !('index' in change) && !isWhole(change.from ?? change.to)
  if (isValue) return `${entryLabel(top, withoutLastRows(entry))}, other values`
  const label = entryLabel(top, entry)
  const behind = (words: string) => (label === '' ? words : `${label} ${words}`)
  if ('index' in change) return behind(rowsWords(change.removed.length, change.added.length))
  const { from, to } = change
  if (from === undefined || from === null)
    return behind(isWhole(to) ? 'added' : `none → ${valueWords(to, change, system)}`)
  if (to === undefined || to === null)
    return behind(isWhole(from) ? 'taken out' : `${valueWords(from, change, system)} → none`)
  if (isWhole(from) || isWhole(to)) return behind('changed')
  const unit = typeof from === 'number' && typeof to === 'number' ? unitAt(change) : ''
  if (unit === '' || unit === 'deg' || unit === 'share')
    return behind(`${valueWords(from, change, system)} → ${valueWords(to, change, system)}`)
  const { word, inUnit } = shownAs(unit, system)
  const shown = label.endsWith(unit) ? '' : ` ${word}`
  return behind(`${digits(inUnit(from as number))} → ${digits(inUnit(to as number))}${shown}`)
}

/** The ± of a tolerance is in the unit of the tolerance. */
const unitAt = ({ at }: Change): string => unitOf(String(at.at(-1) === 'plusMinus' ? at.at(-2) : at.at(-1)))

function rowsWords(removed: number, added: number): string {
  if (removed === 0) return `${added} more`
  return added === 0 ? `${removed} fewer` : `${removed} replaced by ${added}`
}

const withoutLastRows = (entry: readonly string[]): readonly string[] =>
  entry.slice(0, 1 + entry.findLastIndex((step) => !/^\d+$/.test(step)))

const isWhole = (value: unknown): boolean => typeof value === 'object' && value !== null

function valueWords(value: unknown, change: Change, system: UnitSystem): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value !== 'number') return `“${shortened(String(value))}”`
  const unit = unitAt(change)
  if (unit === 'share') return `${digits(100 * value)} %`
  const { word, inUnit } = shownAs(unit, system)
  return unit === 'deg' ? `${digits(value)}°` : `${digits(inUnit(value))} ${word}`.trim()
}

/** What was typed in the document's unit keeps its digits; turned into another, five of them are enough. */
function shownAs(unit: string, system: UnitSystem): { word: string; inUnit: (value: number) => number } {
  const { word, toShown } = shownIn(unit, system)
  return { word, inUnit: (value) => (word === unit ? value : Number(toShown(value).toPrecision(5))) }
}

const MOST_CHARS = 60
const shortened = (text: string): string => (text.length > MOST_CHARS ? `${text.slice(0, MOST_CHARS - 1)}…` : text)

const digits = (x: number): string => x.toLocaleString('en-GB', { maximumSignificantDigits: 6, useGrouping: false })

const readOut = (key: string): string => key.replace(/(?<=[a-z])(?=[A-Z\d])/g, ' ').toLowerCase()
const sentenceCase = (key: string): string => {
  const words = readOut(key)
  return words.charAt(0).toUpperCase() + words.slice(1)
}
