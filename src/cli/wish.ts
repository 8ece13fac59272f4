// lampwright wish: whole lamps of several kinds from what a lamp must do, side by side.
import { mkdirSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { join } from 'node:path'
import { KINDS } from '../job/wish/kinds.ts'
import type { Proposal } from '../job/wish/result.ts'
import type { WishResult } from '../job/wish/run.ts'
import { readWish, type Wish } from '../job/wish/wish.ts'
import { writeLampText } from '../lamp/read.ts'
import { inSystem } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import {
  COSTS_NOTE,
  changesWords,
  declinedWords,
  forbiddenWords,
  missWords,
  proposalRows,
  severeWords,
} from '../report/wish.ts'
import { columns, fixed, wrapped } from './format.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { readText } from './lampFile.ts'
import { plainName } from './names.ts'
import { type Parsed, UNITS, unitsOf, wholeNumber } from './options.ts'
import { progressOn } from './progress.ts'
import { VERSION } from './version.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const WISH_OPTIONS = {
  candela: { type: 'string', value: 'CD' },
  lux: { type: 'string', value: 'LX' },
  distance: { type: 'string', value: 'M' },
  size: { type: 'string', value: 'M' },
  minutes: { type: 'string', value: 'MIN' },
  length: { type: 'string', value: 'MM' },
  width: { type: 'string', value: 'MM' },
  mass: { type: 'string', value: 'KG' },
  emitter: { type: 'string', value: 'ID' },
  emitters: { type: 'string', value: 'N' },
  lens: { type: 'string', value: 'FOCAL:SIZE' },
  tunnel: { type: 'string', value: 'ACROSS:LENGTH' },
  pack: { type: 'string', value: 'SERIES:PARALLEL' },
  'out-dir': { type: 'string', value: 'PATH' },
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  force: { type: 'boolean' },
  units: UNITS,
  json: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

export async function wishCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const { io } = tools
  const wish = wishOf(parsed)
  const system = unitsOf(parsed)
  const options = {
    rays: wholeNumber(parsed, 'rays', { from: 16, to: 1e7, otherwise: 65_536 }),
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    threads: wholeNumber(parsed, 'threads', {
      from: 0,
      to: 256,
      otherwise: Math.min(KINDS.length, availableParallelism()),
    }),
  }
  const folder = parsed.values.get('out-dir')
  const over = parsed.flags.has('force')
  if (folder !== undefined) {
    mkdirSync(folder, { recursive: true })
    for (const kind of KINDS) expectWritable(pathOf(folder, kind.name), over)
  }
  const began = performance.now()
  const result = await searched(wish, options, tools)
  const seconds = (performance.now() - began) / 1000
  if (parsed.flags.has('json'))
    io.out(`${JSON.stringify({ version: VERSION, wish, ...options, seconds, ...result })}\n`)
  else io.out(wishText(wish, result, seconds, system))
  if (result.forbidden.length > 0) return EXIT.refused
  if (folder !== undefined) writeAll(result, folder, over, tools)
  return EXIT.fine
}

const pathOf = (folder: string, name: string) => join(folder, `${plainName(name)}.lamp.json`)

function writeAll(result: WishResult, folder: string, over: boolean, { io }: Tools): void {
  for (const { name, lamp } of proposalsOf(result)) {
    const path = pathOf(folder, name)
    writeFile(path, writeLampText(lamp), over)
    io.err(`Wrote ${stripControls(path)}.\n`)
  }
}

const proposalsOf = ({ outcomes }: WishResult): Proposal[] => outcomes.flatMap((o) => (o.ok ? [o.proposal] : []))

async function searched(
  wish: Wish,
  options: { rays: number; seed: number; threads: number },
  { io, wish: search }: Tools,
): Promise<WishResult> {
  const progress = progressOn(io, (done, all) => `${done} of ${all} kinds of lamps`)
  let done = 0
  progress.show({ rays: 0, maxRays: KINDS.length })
  try {
    return await search(wish, options, () => progress.show({ rays: ++done, maxRays: KINDS.length }))
  } finally {
    progress.end()
  }
}

/** The file's entries, and what options say in place of them. */
function wishOf(parsed: Parsed): Wish {
  const [file, second] = parsed.positionals
  if (second !== undefined) throw new UserError(`wish takes one file and found ${JSON.stringify(second)} as well.`)
  const read = readWish({ ...(file === undefined ? {} : jsonOf(file)), ...typedOf(parsed) })
  if (!read.ok) throw new UserError(`wish: ${stripControls(read.why)}`)
  return read.wish
}

function jsonOf(file: string): object {
  try {
    const json: unknown = JSON.parse(readText(file, 'a file with a wish'))
    if (typeof json === 'object' && json !== null) return json
  } catch (error) {
    if (error instanceof UserError) throw error
  }
  throw new UserError(`${stripControls(file)} holds no wish; expected a JSON object such as {"candela": 1000000}.`)
}

const NUMBERS = {
  candela: 'candela',
  lux: 'lux',
  distance: 'distanceM',
  size: 'sizeM',
  minutes: 'minutes',
  length: 'lengthMm',
  width: 'widthMm',
  mass: 'massKg',
  emitters: 'emitters',
} as const

const PAIRS = {
  lens: ['focalMm', 'sizeMm'],
  tunnel: ['acrossMm', 'lengthMm'],
  pack: ['series', 'parallel'],
} as const

function typedOf({ values }: Parsed): object {
  const wish: Record<string, unknown> = {}
  for (const [option, entry] of Object.entries(NUMBERS)) {
    const text = values.get(option)
    if (text !== undefined) wish[entry] = numberOf(option, text)
  }
  for (const [option, [first, second]] of Object.entries(PAIRS)) {
    const text = values.get(option)
    if (text === undefined) continue
    const [a, b, more] = text.split(':')
    if (a === undefined || b === undefined || more !== undefined)
      throw new UserError(
        `--${option}: ${JSON.stringify(text)} does not fit; expected two numbers with a colon between.`,
      )
    wish[option] = { [first]: numberOf(option, a), [second]: numberOf(option, b) }
  }
  const emitter = values.get('emitter')
  return emitter === undefined ? wish : { ...wish, emitter }
}

function numberOf(option: string, text: string): number {
  const number = /^(\d[\d,_]*\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text) ? Number(text.replace(/[,_]/g, '')) : Number.NaN
  if (Number.isFinite(number)) return number
  throw new UserError(`--${option}: ${JSON.stringify(text)} does not fit; expected a number above 0.`)
}

const WIDTH = 100

function wishText(wish: Wish, result: WishResult, seconds: number, system: UnitSystem): string {
  if (result.forbidden.length > 0)
    return result.forbidden
      .map((f) => `${wrapped(forbiddenWords(f), WIDTH, '')}\n${wrapped(changesWords(f, system), WIDTH, '')}\n`)
      .join('\n')
  const proposals = proposalsOf(result)
  const unit = wish.lux === undefined ? 'cd' : 'lx'
  const declined = result.outcomes.flatMap((o) =>
    o.ok ? [] : [`${o.declined.name}: ${stripControls(inSystem(declinedWords(o.declined, unit), system))}`],
  )
  const list = proposals.map(({ name }, i) => `${i + 1}  ${name}`)
  const rows = proposalRows(wish, system).map((row) => [row.label, row.unit, ...proposals.map((p) => row.of(p))])
  const table = columns([['', '', ...proposals.map((_, i) => `${i + 1}`)], ...rows], [2, 3, 4, 5, 6])
  const notes = proposals.flatMap((p, i) => [
    ...p.misses.map((miss) => `${i + 1}  Not as wished: ${missWords(miss, system)}.`),
    ...p.severe.map((f) =>
      wrapped(`${i + 1}  Severe: ${stripControls(inSystem(severeWords(f, p.lamp), system))}`, WIDTH, '   '),
    ),
  ])
  const head = `${proposals.length} of ${result.outcomes.length} kinds of lamps, in ${fixed(seconds, 0)} s. ± of tracing at 95 %; built lamps differ by more.`
  const blocks = [
    [head],
    list,
    table,
    notes,
    declined.map((line) => wrapped(line, WIDTH, '  ')),
    proposals.length > 0 ? [wrapped(COSTS_NOTE, WIDTH, '')] : [],
  ]
  return `${blocks
    .filter((b) => b.length > 0)
    .map((b) => b.join('\n'))
    .join('\n\n')}\n`
}
