// lampwright compare: up to four lamps side by side, as text or JSON.
import { availableParallelism } from 'node:os'
import { type Column, MOST_COLUMNS } from '../job/compare/result.ts'
import { SWEPT_NAMES } from '../job/sweep/figures.ts'
import type { Lamp } from '../lamp/schema.ts'
import { changeLines } from '../report/changeLines.ts'
import { COLUMN_LETTERS, compareTable, findingsOf, markOf } from '../report/compare.ts'
import { unitFor } from '../report/sweepTable.ts'
import { compareText } from './compareText.ts'
import { whole } from './format.ts'
import { EXIT, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { type Parsed, UNITS, unitsOf, wholeNumber } from './options.ts'
import { progressOn } from './progress.ts'
import { VERSION } from './version.ts'

export const COMPARE_OPTIONS = {
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  units: UNITS,
  json: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

export async function compareCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const names = parsed.positionals
  if (names.length < 2 || names.length > MOST_COLUMNS || names.includes(''))
    throw new UserError(
      `compare takes two to ${MOST_COLUMNS} lamp files or names of examples, but found ${names.filter((n) => n !== '').length}.`,
    )
  const options = {
    rays: wholeNumber(parsed, 'rays', { from: 16, to: 1e8, otherwise: 262_144 }),
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    threads: wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() }),
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

/** Light, heat, danger. */
const STEPS = 3

async function compared(
  lamps: readonly Lamp[],
  options: { rays: number; seed: number; threads: number },
  { io, compare }: Tools,
): Promise<Column[]> {
  const progress = progressOn(io, (done, all) => `${whole(done)} of ${whole(all)} steps`)
  let done = 0
  try {
    return await compare(lamps, options, () => progress.show({ rays: ++done, maxRays: STEPS * lamps.length }))
  } finally {
    progress.end()
  }
}

function compareJson(
  names: readonly string[],
  lamps: readonly Lamp[],
  columns: readonly Column[],
  settings: { rays: number; seed: number; threads: number; seconds: number },
) {
  const table = compareTable(columns)
  const [first] = lamps
  const words = (rows: typeof table.danger) => Object.fromEntries(rows.map(({ name, cells }) => [name, cells]))
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
      clear: danger.clear.map(({ id, name, clearDistanceMm }) => ({ id, name, clearDistanceMm })),
      worstKWm2: danger.worstKWm2,
      modes: heat.modes,
      parts,
      profile: light.profile && {
        thetaDeg: Array.from(light.profile.thetaDeg),
        cd: Array.from(light.profile.cd),
        seCd: Array.from(light.profile.seCd),
      },
    })),
    danger: words(table.danger),
    heat: words(table.heat),
    parts: words(table.parts),
  }
}
