// A document comes in as text or JSON; a lamp or plain sentences come out. Errors are values here: files are an edge.
import type { z } from 'zod'
import { editDistance } from '../num/editDistance.ts'
import { findAssemblyFaults } from './assemblyChecks.ts'
import { findAimFaults, findOpticFaults } from './boardChecks.ts'
import { jsonFault } from './jsonFault.ts'
import { findLensFaults } from './lensChecks.ts'
import { LIMITS } from './limits.ts'
import { migrate } from './migrate.ts'
import { findOutlineFaults } from './outlineChecks.ts'
import { ownEntry } from './ownEntry.ts'
import { findPowerFaults } from './powerChecks.ts'
import { printable } from './printable.ts'
import { darkFaults, fallingFaults, findProfileFaults } from './profileChecks.ts'
import { ownAt, restoreProtoEntries } from './protoEntries.ts'
import { findRayFaults } from './rays.ts'
import { findReadingFaults } from './readings.ts'
import { type Lamp, lampSchema } from './schema.ts'

export type ReadLamp = { ok: true; lamp: Lamp } | { ok: false; why: string[] }

export function readLampText(text: string): ReadLamp {
  let json: unknown
  try {
    json = JSON.parse(text)
  } catch {
    return { ok: false, why: [jsonFault(text)] }
  }
  return readLamp(json)
}

export function readLamp(json: unknown): ReadLamp {
  const moved = migrate(json)
  if (!moved.ok) return { ok: false, why: [moved.why] }
  const parsed = lampSchema.safeParse(moved.json)
  if (!parsed.success)
    return { ok: false, why: limitFaults(parsed.error.issues, (issue) => describeIssue(issue, moved.json)) }
  const left = restoreProtoEntries(parsed.data, moved.json)
  if (left.length > 0)
    return { ok: false, why: limitFaults(left, ({ path, issue }) => describeIssue({ ...issue, path }, moved.json)) }
  const why = findCrossFaults(parsed.data)
  return why.length > 0 ? { ok: false, why: limitFaults(why, (line) => line) } : { ok: true, lamp: parsed.data }
}

/** A file can have a million faults; nobody reads more than a dozen. */
const MOST_FAULTS = 12
function limitFaults<T>(faults: readonly T[], say: (fault: T) => string): string[] {
  const more = faults.length - MOST_FAULTS
  return [
    ...faults.slice(0, MOST_FAULTS).map((fault) => printable(say(fault))),
    ...(more > 0 ? [`… and ${more} more.`] : []),
  ]
}

export const writeLampText = (lamp: Lamp): string => `${JSON.stringify(lamp, null, 1)}\n`

/** boards[3].turnDeg: 400 does not fit; expected at most 360. */
function describeIssue(issue: z.core.$ZodIssue, json: unknown): string {
  const where = pathText(issue.path)
  if (issue.code === 'unrecognized_keys') {
    const before = where ? `${where}.` : ''
    const messages = issue.keys.slice(0, 4).map((key) => `${before}${shorten(key)}: no such entry${suggestKey(key)}.`)
    if (issue.keys.length > 4) messages.push(`${before}…: ${issue.keys.length - 4} more such entries.`)
    return messages.join(' ')
  }
  if (issue.code === 'invalid_key') return `${where}: no such entry; expected ${issue.issues[0]?.message ?? 'another'}.`
  const value = ownAt(json, issue.path)
  const shown = value === undefined ? 'nothing stands here' : `${describe(value)} does not fit`
  return `${where || 'the document'}: ${shown}; ${describeExpected(issue)}.`
}

const shorten = (text: string): string => (text.length > 60 ? `${text.slice(0, 60)}…` : text)

/** Lists and objects are named, not printed: they may be long, or nested deeper than the stack. */
function describe(value: unknown): string {
  if (Array.isArray(value)) return `a list of ${value.length}`
  if (value !== null && typeof value === 'object') return 'an object'
  return typeof value === 'string' ? JSON.stringify(shorten(value)) : String(value)
}

function describeExpected(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case 'too_small':
      return `expected ${issue.origin === 'array' ? 'a list of ' : issue.origin === 'string' ? 'a text of ' : ''}at least ${issue.minimum}`
    case 'too_big':
      return `expected ${issue.origin === 'array' ? 'a list of ' : issue.origin === 'string' ? 'a text of ' : ''}at most ${issue.maximum}`
    case 'invalid_value':
      return `expected ${issue.values.map((v) => JSON.stringify(v)).join(' or ')}`
    case 'invalid_type':
      return `expected ${ownEntry(KIND_WORDS, issue.expected) ?? issue.expected}`
    case 'invalid_format':
      return `expected ${issue.message}`
    case 'invalid_union': {
      const known = 'options' in issue && Array.isArray(issue.options) ? issue.options : null
      if (known) return `expected ${known.map((v) => JSON.stringify(v)).join(' or ')}`
      const ways = new Set(issue.errors.flatMap((way) => way.slice(0, 1).map(describeExpected)))
      return `expected ${[...ways].map((way) => way.replace(/^expected /, '')).join(' or ')}`
    }
    default:
      return issue.message.charAt(0).toLowerCase() + issue.message.slice(1)
  }
}

const KIND_WORDS: Record<string, string> = {
  number: 'a number',
  int: 'a whole number',
  string: 'a text',
  array: 'a list',
  object: 'an object',
  record: 'an object',
}

const pathText = (path: readonly PropertyKey[]) =>
  path.map((p, i) => (typeof p === 'number' ? `[${p}]` : i === 0 ? String(p) : `.${String(p)}`)).join('')

/** The nearest entry known anywhere in the schema, when it is within two typing slips. */
function suggestKey(key: string): string {
  // A name that belongs elsewhere is spelt right: no hint.
  if (key.length > 40 || knownKeys().includes(key)) return ''
  let best = ''
  let bestSlips = 3
  for (const known of knownKeys()) {
    const slips = editDistance(key, known)
    if (slips < bestSlips) {
      best = known
      bestSlips = slips
    }
  }
  return best ? ` (did you mean ${best}?)` : ''
}

let keys: string[] | undefined
function knownKeys(): string[] {
  if (keys) return keys
  const found = new Set<string>()
  const walk = (schema: unknown): void => {
    if (schema === null || typeof schema !== 'object') return
    const def = (schema as { def?: Record<string, unknown> }).def
    if (!def) return
    if (def['type'] === 'object') {
      for (const [key, value] of Object.entries(def['shape'] as object)) {
        found.add(key)
        walk(value)
      }
    }
    for (const next of [def['element'], def['innerType'], def['valueType']]) walk(next)
    for (const option of (def['options'] as unknown[]) ?? []) walk(option)
  }
  walk(lampSchema)
  keys = [...found]
  return keys
}

/** What one field can't say alone: names that must resolve, tables that must rise, sizes that must agree. */
function findCrossFaults(lamp: Lamp): string[] {
  const why: string[] = []
  const unique = (rows: readonly { id: string }[], where: string) => {
    const seen = new Set<string>()
    for (const [i, r] of rows.entries()) {
      if (seen.has(r.id)) why.push(`${where}[${i}].id: "${r.id}" stands twice; each needs a name of its own.`)
      seen.add(r.id)
    }
    return seen
  }
  const emitters = unique(lamp.emitterTypes, 'emitterTypes')
  const optics = unique(lamp.opticTypes, 'opticTypes')
  const types = unique(lamp.boardTypes, 'boardTypes')
  unique(lamp.boards, 'boards')
  const known = (set: Set<string>, name: string | undefined, where: string, what: string) => {
    if (name !== undefined && !set.has(name))
      why.push(`${where}: no ${what} called "${name}"; there is ${[...set].join(', ')}.`)
  }
  known(optics, lamp.optic, 'optic', 'optic type')
  for (const [i, t] of lamp.boardTypes.entries()) known(emitters, t.emitter, `boardTypes[${i}].emitter`, 'emitter type')
  const sitesOf = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
  let count = 0
  for (const [i, b] of lamp.boards.entries()) {
    known(types, b.type, `boards[${i}].type`, 'board type')
    known(optics, b.optic, `boards[${i}].optic`, 'optic type')
    const sites = sitesOf.get(b.type) ?? 0
    count += sites
    for (const [site, optic] of Object.entries(b.siteOptics ?? {})) {
      known(optics, optic, `boards[${i}].siteOptics.${site}`, 'optic type')
      if (Number(site) >= sites)
        why.push(`boards[${i}].siteOptics.${site}: the board has ${sites} emitters, counted from 0.`)
    }
  }
  if (count > LIMITS.emitters) why.push(`boards: ${count} emitters in all; at most ${LIMITS.emitters}.`)
  for (const [i, e] of lamp.emitterTypes.entries()) why.push(...findTableFaults(e, `emitterTypes[${i}]`))
  why.push(...findRayFaults(lamp.emitterTypes))
  for (const [i, o] of lamp.opticTypes.entries()) why.push(...findOpticFaults(o, `opticTypes[${i}]`))
  for (const [i, b] of lamp.boards.entries()) why.push(...findAimFaults(b, sitesOf.get(b.type) ?? 0, `boards[${i}]`))
  if (lamp.tunnel && lamp.tunnel.zOutMm <= lamp.tunnel.zInMm) {
    why.push(
      `tunnel.zOutMm: ${lamp.tunnel.zOutMm} does not fit; expected more than tunnel.zInMm (${lamp.tunnel.zInMm}).`,
    )
  }
  why.push(...findOutlineFaults(lamp), ...findLensFaults(lamp), ...findAssemblyFaults(lamp), ...findPowerFaults(lamp))
  why.push(
    ...findReadingFaults(
      lamp.readings,
      (lamp.power?.modes ?? []).map((m) => m.id),
      lamp.boards.map((b) => b.id),
    ),
  )
  return why
}

function findTableFaults(e: Lamp['emitterTypes'][number], where: string): string[] {
  const why: string[] = []
  const rising = (values: readonly number[], name: string) => why.push(...fallingFaults(values, `${where}.${name}`))
  rising(
    e.forward.map((r) => r.currentA),
    'forward',
  )
  rising(
    e.fluxByCurrent.map((r) => r.currentA),
    'fluxByCurrent',
  )
  rising(
    e.fluxByJunction.map((r) => r.junctionC),
    'fluxByJunction',
  )
  why.push(...findProfileFaults(e.profile, `${where}.profile`))
  if (e.spectrum.kind === 'table') why.push(...darkFaults([e.spectrum.power], `${where}.spectrum.power`))
  return why
}
