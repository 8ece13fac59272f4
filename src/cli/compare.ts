// lampwright compare: up to four lamps side by side, as text or JSON.
import { availableParallelism } from 'node:os'
import { type Column, MOST_COLUMNS } from '../job/compare/result.ts'
import { SWEPT_NAMES } from '../job/sweep/figures.ts'
import type { Lamp } from '../lamp/schema.ts'
import { changeLines } from '../report/changeLines.ts'
import { COLUMN_LETTERS, compareTable, markOf } from '../report/compare.ts'
import { findingsOf } from '../report/compareFindings.ts'
import { unitFor } from '../report/sweepTable.ts'
import { compareText } from './compareText.ts'
import { dangerJson } from './dangerJson.ts'
import { EXIT, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { type Parsed, UNITS, unitsOf, wholeNumber } from './options.ts'
import { progressOn } from './progress.ts'
import { VERSION } from './version.ts'

export const COMPARE_OPTIONS = {
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  rough: { type: 'boolean' },
  units: UNITS,
  json: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

export async function compareCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const names = parsed.positionals
  if (names.length < 2 || names.length > MOST_COLUMNS || names.includes(''))
    throw new UserError(
      `compare takes 2 to ${MOST_COLUMNS} lamp files or names of examples, but found ${names.filter((n) => n !== '').length}.`,
    )
  const options = {
    rays: wholeNumber(parsed, 'rays', { from: 16, to: 1e8, otherwise: 262_144 }),
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    threads: wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() }),
    rough: parsed.flags.has('rough'),
  }
  const system = unitsOf(parsed)
  const lamps: Lamp[] = []
  for (const name of names) lamps.push(await openLamp(name))
  const began = performance.now()
  const columns = await compared(lamps, options, tools)
  const seconds = (performance.now() - began) / 1000
  const settings = { ...options, seconds }
  if (parsed.flags.has('json')) tools.io.out(`${JSON.stringify(compareJson(names, lamps, columns, settings))}\n`)
  else tools.io.out(compareText(names, lamps, columns, settings, system))
  return EXIT.fine
}

/** Shares of a lamp's time when its light, its heat and its beam's dangers are there; the sun takes the rest. */
const AFTER = { light: 0.2, heat: 0.25, beam: 0.4, front: 0.5, sun: 1 } as const
const FROM = { beam: AFTER.heat, front: AFTER.beam, sun: AFTER.front } as const

async function compared(
  lamps: readonly Lamp[],
  options: { rays: number; seed: number; threads: number; rough: boolean },
  { io, compare }: Tools,
): Promise<Column[]> {
  const done = lamps.map(() => 0)
  const progress = progressOn(io, () => `${done.filter((d) => d === 1).length} of ${lamps.length} lamps read`)
  const show = (index: number, share: number) => {
    done[index] = share
    progress.show({ rays: done.reduce((a, b) => a + b, 0), maxRays: lamps.length })
  }
  try {
    return await compare(lamps, options, {
      onPart: (index, { heat, danger }) => show(index, danger ? 1 : heat ? AFTER.heat : AFTER.light),
      onStage: (index, stage, share) => show(index, FROM[stage] + share * (AFTER[stage] - FROM[stage])),
    })
  } finally {
    progress.end()
  }
}

function compareJson(
  names: readonly string[],
  lamps: readonly Lamp[],
  columns: readonly Column[],
  settings: { rays: number; seed: number; threads: number; rough: boolean; seconds: number },
) {
  const table = compareTable(columns)
  const [first] = lamps
  const words = (rows: typeof table.heat) => Object.fromEntries(rows.map(({ name, cells }) => [name, cells]))
  return {
    version: VERSION,
    ...settings,
    units: Object.fromEntries(SWEPT_NAMES.map((name) => [name, unitFor(name)])),
    lamps: columns.map(({ light, danger, heat, parts }, i) => ({
      letter: COLUMN_LETTERS[i],
      file: names[i],
      name: lamps[i]?.name,
      why: light.why,
      rays: light.rays,
      figures: light.figures,
      absent: light.absent,
      differences: Object.fromEntries(
        table.figures.flatMap(({ figure, differences }) => {
          const d = differences[i]
          return d ? [[figure, { ...d, mark: markOf(d) }]] : []
        }),
      ),
      changes: i > 0 && first && lamps[i] ? changeLines(first, lamps[i]) : [],
      findings: (['severe', 'warning', 'note'] as const).flatMap((s) => findingsOf({ light, danger, heat, parts }, s)),
      danger: { ...dangerJson(danger.reading, VERSION), rough: danger.rough },
      modes: heat.modes,
      parts,
      profile: light.profile && {
        thetaDeg: Array.from(light.profile.thetaDeg),
        cd: Array.from(light.profile.cd),
        seCd: Array.from(light.profile.seCd),
      },
    })),
    danger: table.danger,
    findings: table.findings.map(({ lamps, ...row }) => ({
      ...row,
      lamps: lamps.map((l) => (l === 'none' ? null : l)),
    })),
    heat: words(table.heat),
    parts: words(table.parts),
    partsThatDiffer: table.list.rows,
  }
}
