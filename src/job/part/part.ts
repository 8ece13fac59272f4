// A run cut into parts that any scheduler can spread: each part a plain file, all of them joined the same as the run in one go. Every cell
// of a run is a pure function of the lamp, the settings and its index, so a part that is computed again has the same bytes.
import { canonicalJson } from '../../lamp/designHash.ts'
import { readLamp } from '../../lamp/read.ts'
import type { Lamp } from '../../lamp/schema.ts'
import * as z from '../../lamp/zod.ts'
import { sha256 } from '../../num/sha256.ts'

/** Which runs can be cut. */
const RUN_KINDS = ['sweep', 'tolerances', 'optimize'] as const
type RunKind = (typeof RUN_KINDS)[number]

export interface Part {
  /** From 1. */
  part: number
  of: number
}
export const WHOLE: Part = { part: 1, of: 1 }

export interface Cell {
  index: number
}

export interface PartFile<C extends Cell = Cell> extends Part {
  format: 'lamp-part'
  version: 1
  kind: RunKind
  /** The program that computed it: parts of two versions aren't joined. */
  program: string
  settings: Record<string, unknown>
  /** Cells of the whole run. */
  all: number
  lamp: Lamp
  /** In rising order of their index. */
  cells: readonly C[]
}

/** Cells of a part: every n-th, so that parts take about equally long. */
export const indicesOf = (all: number, { part, of }: Part): number[] =>
  Array.from({ length: Math.max(0, Math.ceil((all - part + 1) / of)) }, (_, k) => part - 1 + k * of)

/** "3/8" as on the command line; null where it is none. */
export function parsePart(text: string): Part | null {
  const [, part, of] = /^(\d{1,6})\/(\d{1,6})$/.exec(text) ?? []
  const found = { part: Number(part), of: Number(of) }
  return found.part >= 1 && found.part <= found.of ? found : null
}

export const partName = ({ part, of }: Part): string => `${part}/${of}`

/** JSON knows neither: they stand as text. */
const NON_FINITE: Record<string, number> = { NaN: Number.NaN, Infinity, '-Infinity': -Infinity }
const plain = (_: string, value: unknown) =>
  typeof value === 'number' && !Number.isFinite(value) ? String(value) : value
const numberAgain = (key: string, value: unknown) =>
  (key === 'value' || key === 'se') && typeof value === 'string' ? (NON_FINITE[value] ?? value) : value

/** A line for each cell; the same part has the same bytes. */
export function writePart({ lamp, cells, ...head }: PartFile): string {
  const lines = cells.map((cell) => JSON.stringify(cell, plain))
  return `{"head":${canonicalJson(head)},\n"lamp":${canonicalJson(lamp)},\n"cells":[\n${lines.join(',\n')}\n]}\n`
}

const headSchema = z.strictObject({
  format: z.literal('lamp-part'),
  version: z.literal(1),
  kind: z.enum(RUN_KINDS),
  part: z.int().min(1),
  of: z.int().min(1),
  all: z.int().min(1),
  program: z.string(),
  settings: z.record(z.string(), z.unknown()),
})
const partSchema = z.strictObject({
  head: headSchema,
  lamp: z.unknown(),
  cells: z.array(z.looseObject({ index: z.int().min(0) })),
})

export type ReadPart = { ok: true; part: PartFile } | { ok: false; why: string }

/** A part out of its text, or why it is none: damaged, cut off, of another kind of file, or with cells missing. */
export function readPart(text: string): ReadPart {
  let json: unknown
  try {
    json = JSON.parse(text, numberAgain)
  } catch {
    return { ok: false, why: 'this is no JSON, or not all of it' }
  }
  const parsed = partSchema.safeParse(json)
  if (!parsed.success) return { ok: false, why: 'this is no part of a run' }
  const read = readLamp(parsed.data.lamp)
  if (!read.ok) return { ok: false, why: `its lamp does not fit: ${read.why[0]}` }
  const { head, cells } = parsed.data
  if (head.part > head.of) return { ok: false, why: `there is no part ${partName(head)}` }
  const wanted = indicesOf(head.all, head)
  const isWhole = wanted.length === cells.length && wanted.every((index, i) => cells[i]?.index === index)
  if (!isWhole) return { ok: false, why: 'cells of it are missing' }
  return { ok: true, part: { ...head, lamp: read.lamp, cells } }
}

/** Of everything that two parts of one run share; SHA-256. */
export const runHash = ({ kind, program, settings, all, lamp }: Omit<PartFile, 'cells' | keyof Part>): string =>
  sha256(new TextEncoder().encode(canonicalJson({ kind, program, settings, all, lamp })))

export type Joined = { ok: true; whole: PartFile } | { ok: false; why: string }

/**
 * The whole run of its parts, in whatever order they come; a part that stands twice does no harm. `why` names a part
 * of another run and what differs, and all parts that are missing.
 */
export function joinParts(named: readonly { name: string; part: PartFile }[]): Joined {
  const [first, ...more] = named
  if (!first) return { ok: false, why: 'No part is named.' }
  for (const { name, part } of more) {
    const why = differs(first.part, part)
    if (why) return { ok: false, why: `${name} is of another run than ${first.name}: ${why}.` }
  }
  const byPart = new Map<number, { name: string; part: PartFile }>()
  for (const one of named) {
    const known = byPart.get(one.part.part)
    if (known && writePart(known.part) !== writePart(one.part))
      return { ok: false, why: `${known.name} and ${one.name} are both part ${partName(one.part)}, and differ.` }
    byPart.set(one.part.part, one)
  }
  const { of } = first.part
  const missing = Array.from({ length: of }, (_, i) => i + 1).filter((i) => !byPart.has(i))
  if (missing.length > 0) return { ok: false, why: missingWords(missing, of) }
  const cells = [...byPart.values()].flatMap(({ part }) => part.cells).sort((a, b) => a.index - b.index)
  return { ok: true, whole: { ...first.part, ...WHOLE, cells } }
}

const MOST_NAMED = 20

function missingWords(missing: readonly number[], of: number): string {
  const named = missing.slice(0, MOST_NAMED).map((part) => partName({ part, of }))
  const rest = missing.length - named.length
  const words = `${named.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}`
  return missing.length === 1 ? `Part ${words} is missing.` : `${missing.length} parts are missing: ${words}.`
}

function differs(a: PartFile, b: PartFile): string | null {
  if (a.kind !== b.kind) return `one is of ${a.kind}, the other of ${b.kind}`
  if (a.of !== b.of) return `one is cut into ${a.of} parts, the other into ${b.of}`
  if (runHash(a) === runHash(b)) return null
  if (a.program !== b.program) return `they were computed by two versions of the program, ${a.program} and ${b.program}`
  if (canonicalJson(a.lamp) !== canonicalJson(b.lamp)) return 'the lamp is another'
  const keys = [...new Set([...Object.keys(a.settings), ...Object.keys(b.settings)])]
  const other = keys.filter((key) => canonicalJson(a.settings[key] ?? null) !== canonicalJson(b.settings[key] ?? null))
  return `${other.join(', ') || 'its length'} differs`
}
