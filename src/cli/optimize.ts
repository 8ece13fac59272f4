// lampwright optimize: what may move is moved until a figure is at its best within what is to be kept; two wishes give a front.
import { availableParallelism } from 'node:os'
import { WISH_FIGURES, type WishName } from '../job/choose/figures.ts'
import { type Movable, type Move, movableOf, withMoves } from '../job/choose/moves.ts'
import { MOST_STARTS, type OptimizePlan, planFault } from '../job/choose/plan.ts'
import type { OptimizeResult } from '../job/choose/run.ts'
import type { StartCell } from '../job/choose/starts.ts'
import type { Keep, Want } from '../job/choose/wishes.ts'
import { writeLampText } from '../lamp/read.ts'
import type { Lamp } from '../lamp/schema.ts'
import { wishWords } from '../report/choose.ts'
import { whole } from './format.ts'
import { EXIT, type Io, stripControls, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { didYouMean } from './nearest.ts'
import { movableList, optimizeText } from './optimizeText.ts'
import { onlyPositional, type Parsed, wholeNumber } from './options.ts'
import { computePart, PART_OPTIONS, partAsked } from './partFile.ts'
import { progressOn } from './progress.ts'
import { openSearchFile } from './searchFile.ts'
import { severeLine } from './severeLine.ts'
import { VERSION } from './version.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const OPTIMIZE_OPTIONS = {
  move: { type: 'string', value: 'PATH=MIN..MAX', many: true },
  want: { type: 'string', value: 'WISH', many: true },
  keep: { type: 'string', value: 'LIMIT', many: true },
  list: { type: 'boolean' },
  evaluations: { type: 'string', value: 'N' },
  starts: { type: 'string', value: 'N' },
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  state: { type: 'string', value: 'FILE' },
  ...PART_OPTIONS,
  force: { type: 'boolean' },
  json: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

export async function optimizeCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const { io } = tools
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'optimize'))
  const movable = movableOf(lamp)
  if (parsed.flags.has('list')) {
    io.out(movableList(movable))
    return EXIT.fine
  }
  const plan = planOf(parsed, lamp, movable)
  const threads = wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() })
  const state = parsed.values.get('state')
  const output = optimizeOutput(parsed)
  if (parsed.values.has('part')) return searchPart(parsed, lamp, plan, threads, tools)
  expectOneBest(plan, output)
  const file = state === undefined ? null : openSearchFile(state, lamp, plan)
  const began = performance.now()
  const result = await searched(
    lamp,
    plan,
    { threads, ...(file && { outcomes: file.outcomes, onOutcome: file.add }) },
    tools,
  )
  return printOptimize(
    { lamp, plan, result, took: { threads, seconds: (performance.now() - began) / 1000 } },
    output,
    io,
  )
}

/** What a search prints, and where its best lamp goes. */
interface OptimizeOutput {
  out: string | undefined
  over: boolean
  json: boolean
}

export const optimizeOutput = (parsed: Parsed): OptimizeOutput => ({
  out: parsed.values.get('out'),
  over: parsed.flags.has('force'),
  json: parsed.flags.has('json'),
})

/** Said before the work, not after it. */
export function expectOneBest(plan: OptimizePlan, { out, over }: OptimizeOutput): void {
  if (out === undefined) return
  if (plan.wants.length > 1)
    throw new UserError('Two wishes have no single best lamp for --out; --json prints all of the front.')
  expectWritable(out, over)
}

interface Optimized {
  lamp: Lamp
  plan: OptimizePlan
  result: OptimizeResult
  /** Absent where it was done in parts. */
  took?: { threads: number; seconds: number }
}

export function printOptimize({ lamp, plan, result, took }: Optimized, output: OptimizeOutput, io: Io): number {
  if (output.json) io.out(`${JSON.stringify(optimizeJson(lamp, plan, result, took))}\n`)
  else io.out(optimizeText(lamp, movableOf(lamp), plan, result, took))
  if (output.out !== undefined) writeBest(lamp, plan, result, output.out, output.over, io)
  return EXIT.fine
}

/** Some of the searches, by what they evaluated; `merge` does the rest. */
async function searchPart(
  parsed: Parsed,
  lamp: Lamp,
  plan: OptimizePlan,
  threads: number,
  { io, searchStarts }: Tools,
): Promise<number> {
  const file = partAsked(parsed)
  if (parsed.flags.has('json')) throw new UserError('--part writes a file for merge, which then prints text or --json.')
  const { starts: all = 1 } = plan
  if (file && all < file.part.of)
    throw new UserError(`--part cuts the searches of --starts: ${file.part.of} parts need as many of them at least.`)
  const state = parsed.values.get('state')
  const head = { kind: 'optimize', settings: { ...plan }, all, lamp } as const
  await computePart<StartCell>(head, file, parsed.flags.has('force'), io, async (starts) => {
    const known = state === undefined ? null : openSearchFile(state, lamp, plan)
    const progress = progressOn(io, (done, all) => `${whole(done)} of ${whole(all)} lamps`)
    try {
      return await searchStarts(lamp, plan, starts, {
        threads,
        onCount: (done) => progress.show({ rays: done, maxRays: Math.max(done, starts.length * plan.evaluations) }),
        ...(known && { outcomes: known.outcomes, onOutcome: known.add }),
      })
    } finally {
      progress.end()
    }
  })
  return EXIT.fine
}

export async function searched(
  lamp: Lamp,
  plan: OptimizePlan,
  options: Parameters<Tools['optimize']>[2],
  { io, optimize }: Tools,
): Promise<OptimizeResult> {
  const progress = progressOn(io, (done, all) => `${whole(done)} of ${whole(all)} lamps`)
  try {
    return await optimize(lamp, plan, {
      ...options,
      onProgress: ({ done, all }) => progress.show({ rays: Math.min(done, all), maxRays: all }),
    })
  } finally {
    progress.end()
  }
}

function writeBest(
  lamp: Lamp,
  plan: OptimizePlan,
  { confirmation, findings }: OptimizeResult,
  path: string,
  over: boolean,
  io: Io,
): void {
  if (!confirmation) throw new UserError('No lamp keeps what is to be kept, so none was written.')
  writeFile(path, writeLampText(withMoves(lamp, plan.moves, confirmation.best.values)), over)
  io.err(`Wrote ${stripControls(path)}.\n${severeLine(findings?.best ?? [])}`)
}

function planOf(parsed: Parsed, lamp: Lamp, movable: Movable): OptimizePlan {
  const moves = (parsed.lists.get('move') ?? []).map((text) => moveOf(text, movable))
  if (moves.length === 0)
    throw new UserError('optimize needs what may move: --move PATH=MIN..MAX or --move PATH=A,B (see --list).')
  const wants = (parsed.lists.get('want') ?? []).map(wantOf)
  if (wants.length === 0)
    throw new UserError('optimize needs a wish: --want "candela max", --want "beam = 8" (see --list).')
  const plan: OptimizePlan = {
    moves,
    wants,
    keeps: (parsed.lists.get('keep') ?? []).map(keepOf),
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    rays: wholeNumber(parsed, 'rays', { from: 16, to: 1e7, otherwise: 16_384 }),
    evaluations: wholeNumber(parsed, 'evaluations', { from: 1, to: 1e5, otherwise: 200 }),
    ...(parsed.values.has('starts') && {
      starts: wholeNumber(parsed, 'starts', { from: 1, to: MOST_STARTS, otherwise: 1 }),
    }),
  }
  const fault = planFault(lamp, plan, movable)
  if (fault) throw new UserError(stripControls(fault))
  return plan
}

const NUMBER = '[+-]?(?:\\d+\\.?\\d*|\\.\\d+)(?:e[+-]?\\d+)?'

function moveOf(text: string, { numbers, choices }: Movable): Move {
  const cut = text.lastIndexOf('=')
  const path = cut < 0 ? text : text.slice(0, cut)
  const values = cut < 0 ? '' : text.slice(cut + 1)
  const choice = choices.find((c) => c.path === path)
  if (choice) {
    const keys = values === '' || values === 'any' ? choice.options.map((o) => o.key) : values.split(',')
    return { kind: 'choice', path, keys }
  }
  const paths = [...choices, ...numbers].map((p) => p.path)
  if (!paths.includes(path))
    throw new UserError(
      `--move: this lamp has no ${stripControls(path) || '""'}${stripControls(didYouMean(path, paths))} (see --list).`,
    )
  const bounds = new RegExp(`^(${NUMBER})\\.\\.(${NUMBER})$`, 'i').exec(values)
  if (!bounds) throw new UserError(`--move ${path}: ${JSON.stringify(values)} does not fit; expected MIN..MAX.`)
  return { kind: 'number', path, min: Number(bounds[1]), max: Number(bounds[2]) }
}

function figureOf(word: string, option: string): WishName {
  const found = WISH_FIGURES.find((f) => f.word === word || f.name === word)
  if (found) return found.name
  const words = WISH_FIGURES.map((f) => f.word)
  throw new UserError(
    `--${option}: no figure ${stripControls(word) || '""'}${stripControls(didYouMean(word, words))} (see --list).`,
  )
}

/** Shares are written from 0 to 1 or in per cent. */
function limitOf(figure: WishName, text: string, option: string): number {
  const isShare = wishWords(figure).unit === '%'
  const perCent = text.endsWith('%')
  const value = Number(perCent ? text.slice(0, -1) : text) / (perCent ? 100 : 1)
  if (perCent !== isShare && (perCent || value > 1))
    throw new UserError(
      isShare
        ? `--${option}: ${text} is no share; write 0.8 or 80%.`
        : `--${option}: ${text} does not fit; ${wishWords(figure).name.toLowerCase()} is no share.`,
    )
  return value
}

function wantOf(text: string): Want {
  const ends = /^\s*(\S+)\s+(max|min)\s*$/.exec(text)
  if (ends) return { figure: figureOf(ends[1] ?? '', 'want'), aim: ends[2] === 'max' ? 'most' : 'least' }
  const equal = new RegExp(`^\\s*([^\\s=]+)\\s*=\\s*(${NUMBER}%?)\\s*$`, 'i').exec(text)
  if (!equal)
    throw new UserError(
      `--want: ${JSON.stringify(text)} does not fit; expected "FIGURE max", "FIGURE min" or "FIGURE = VALUE".`,
    )
  const figure = figureOf(equal[1] ?? '', 'want')
  return { figure, aim: 'equal', value: limitOf(figure, equal[2] ?? '', 'want') }
}

function keepOf(text: string): Keep {
  const parts = new RegExp(`^\\s*([^\\s<>]+)\\s*(<=|>=|≤|≥)\\s*(${NUMBER}%?)\\s*$`, 'i').exec(text)
  if (!parts)
    throw new UserError(
      `--keep: ${JSON.stringify(text)} does not fit; expected "FIGURE <= VALUE" or "FIGURE >= VALUE".`,
    )
  const figure = figureOf(parts[1] ?? '', 'keep')
  const value = limitOf(figure, parts[3] ?? '', 'keep')
  return parts[2] === '<=' || parts[2] === '≤' ? { figure, most: value } : { figure, least: value }
}

function optimizeJson(
  lamp: Lamp,
  plan: OptimizePlan,
  result: OptimizeResult,
  took: { threads: number; seconds: number } | undefined,
) {
  const { best, front, confirmation, atBounds, refused, findings, end, done, history } = result
  const names = [...new Set([...plan.wants, ...plan.keeps].map((w) => w.figure))]
  const plain = (c: typeof best) => c && { values: c.values, keeps: c.keeps, figures: c.evaluation.figures }
  return {
    version: VERSION,
    lamp: lamp.name,
    ...plan,
    ...took,
    units: Object.fromEntries(names.map((name) => [name, wishWords(name).unit === '%' ? '1' : wishWords(name).unit])),
    end,
    lamps: done,
    best: plain(best),
    confirmation,
    front: front.map(plain),
    atBounds,
    refused,
    findings,
    history: history.map(({ after, candidate }) => ({ after, ...plain(candidate) })),
  }
}
