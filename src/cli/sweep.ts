// lampwright sweep: one or two parameters of a lamp over a range, as a table, CSV or JSON.

import { availableParallelism } from 'node:os'
import { findingsIn } from '../checks/finding.ts'
import { csvText } from '../files/csv.ts'
import { SWEPT_NAMES } from '../job/sweep/figures.ts'
import { parametersOf } from '../job/sweep/parameters.ts'
import { axesFault, cellCount, evenly, MOST_CELLS, type SweepAxes, type SweepAxis } from '../job/sweep/plan.ts'
import type { SweepCell } from '../job/sweep/run.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { UnitSystem } from '../num/unitSystem.ts'
import { sweepTable, unitFor } from '../report/sweepTable.ts'
import { whole } from './format.ts'
import { EXIT, type Io, stripControls, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { didYouMean } from './nearest.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf, wholeNumber } from './options.ts'
import { computePart, PART_OPTIONS, partAsked } from './partFile.ts'
import { progressOn } from './progress.ts'
import { parameterList, type SweepSettings, sweepText } from './sweepText.ts'
import { VERSION } from './version.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const SWEEP_OPTIONS = {
  vary: { type: 'string', value: 'PATH=FROM:TO:COUNT', many: true },
  list: { type: 'boolean' },
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  csv: { type: 'string', value: 'FILE' },
  ...PART_OPTIONS,
  force: { type: 'boolean' },
  json: { type: 'boolean' },
  units: UNITS,
  help: { type: 'boolean' },
} as const

export async function sweepCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const { io } = tools
  const system = unitsOf(parsed)
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'sweep'))
  if (parsed.flags.has('list')) {
    io.out(parameterList(lamp, system))
    return EXIT.fine
  }
  const options = {
    rays: wholeNumber(parsed, 'rays', { from: 16, to: 1e7, otherwise: 65_536 }),
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    threads: wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() }),
  }
  const axes = axesOf(lamp, parsed.lists.get('vary') ?? [])
  const { rays, seed } = options
  const output = outputOf(parsed)
  const file = partAsked(parsed)
  if (file?.isPart && (output.csv !== undefined || output.json))
    throw new UserError('--part writes a file for merge, which then prints text, --csv or --json.')
  const began = performance.now()
  const head = { kind: 'sweep', settings: { axes, rays, seed }, all: cellCount(axes), lamp } as const
  const made = await computePart<SweepCell>(head, file, output.over, io, (indices) =>
    swept(lamp, axes, options, tools, indices),
  )
  if (!made || file?.isPart) return EXIT.fine
  const seconds = (performance.now() - began) / 1000
  return printSweep({ lamp, axes, cells: made.cells, settings: { ...options, seconds } }, output, io)
}

/** What a sweep prints, and where to. */
interface SweepOutput {
  csv: string | undefined
  over: boolean
  json: boolean
  system: UnitSystem
}

/** Reports a file that can't be written before the work, not after it. */
export function outputOf(parsed: Parsed): SweepOutput {
  const output = {
    csv: parsed.values.get('csv'),
    over: parsed.flags.has('force'),
    json: parsed.flags.has('json'),
    system: unitsOf(parsed),
  }
  if (output.json && output.csv === '-')
    throw new UserError('--csv - and --json both want stdout; one of them can have it.')
  if (output.csv !== undefined && output.csv !== '-') expectWritable(output.csv, output.over)
  return output
}

interface Swept {
  lamp: Lamp
  axes: SweepAxes
  cells: readonly SweepCell[]
  settings: SweepSettings
}

export function printSweep(
  { lamp, axes, cells, settings }: Swept,
  { csv, over, json, system }: SweepOutput,
  io: Io,
): number {
  if (csv !== undefined) {
    const text = csvText(sweepTable(lamp, axes, cells, settings.seed, system).map((row) => row.map(plainCell)))
    if (csv === '-') {
      io.out(text)
      return EXIT.fine
    }
    writeFile(csv, text, over)
  }
  if (json) io.out(`${JSON.stringify(sweepJson(lamp, axes, cells, settings))}\n`)
  else
    io.out(
      sweepText(lamp, axes, cells, settings, system) + (csv === undefined ? '' : `\nWrote ${stripControls(csv)}.\n`),
    )
  return EXIT.fine
}

const plainCell = <T>(cell: T): T | string => (typeof cell === 'string' ? stripControls(cell) : cell)

async function swept(
  lamp: Lamp,
  axes: SweepAxes,
  options: { rays: number; seed: number; threads: number },
  { io, sweep }: Tools,
  indices: readonly number[],
): Promise<SweepCell[]> {
  const progress = progressOn(io, (done, all) => `${whole(done)} of ${whole(all)} lamps`)
  let done = 0
  const isWhole = indices.length === cellCount(axes)
  try {
    return await sweep(
      lamp,
      axes,
      options,
      () => progress.show({ rays: ++done, maxRays: indices.length }),
      isWhole ? undefined : indices, // all of them: coarse first
    )
  } finally {
    progress.end()
  }
}

function axesOf(lamp: Lamp, texts: readonly string[]): SweepAxes {
  if (texts.length === 0)
    throw new UserError('sweep needs what to vary: --vary PATH=FROM:TO:COUNT (see --list for the paths).')
  if (texts.length > 2) throw new UserError(`--vary stands ${texts.length} times; one or two numbers can be varied.`)
  const paths = parametersOf(lamp).map((p) => p.path)
  const axes = texts.map((text) => axisOf(text, paths))
  const fault = axesFault(lamp, axes)
  if (fault) throw new UserError(`--vary ${stripControls(fault)}`)
  return axes as unknown as SweepAxes
}

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i

function axisOf(text: string, paths: readonly string[]): SweepAxis {
  const cut = text.lastIndexOf('=')
  const path = cut < 0 ? text : text.slice(0, cut)
  if (!paths.includes(path))
    throw new UserError(
      `--vary: this lamp has no number ${stripControls(path) || '""'}${stripControls(didYouMean(path, paths))} (see --list).`,
    )
  const values = cut < 0 ? '' : text.slice(cut + 1)
  const refuse = (why: string) => new UserError(`--vary ${path}: ${why}`)
  const expected = 'expected FROM:TO:COUNT or values with commas between'
  if (values === '') throw refuse(`no values stand behind it; ${expected}.`)
  const number = (part: string) => {
    if (!NUMBER.test(part)) throw refuse(`${JSON.stringify(part)} is no number; ${expected}.`)
    return Number(part)
  }
  if (!values.includes(':')) return { path, values: values.split(',').map(number) }
  const parts = values.split(':')
  if (parts.length !== 3) throw refuse(`${JSON.stringify(values)} does not fit; ${expected}.`)
  const [from, to, count] = parts.map(number) as [number, number, number]
  if (!Number.isInteger(count) || count < 1 || count > MOST_CELLS)
    throw refuse(`a count of ${parts[2]} does not fit; expected a whole number from 1 to ${whole(MOST_CELLS)}.`)
  return { path, values: evenly(from, to, count) }
}

function sweepJson(lamp: Lamp, axes: SweepAxes, cells: readonly SweepCell[], settings: SweepSettings) {
  const known = parametersOf(lamp)
  return {
    version: VERSION,
    lamp: lamp.name,
    ...settings,
    axes: axes.map((axis) => ({ ...axis, unit: known.find((p) => p.path === axis.path)?.unit ?? '' })),
    units: Object.fromEntries(SWEPT_NAMES.map((name) => [name, unitFor(name)])),
    cells: cells.map(({ values, reading, why }) =>
      reading
        ? {
            values,
            rays: reading.rays,
            figures: reading.figures,
            absent: reading.absent,
            findings: findingsIn(reading.findings, 'metric'),
          }
        : { values, why },
    ),
  }
}
