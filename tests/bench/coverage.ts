// How often ± holds the truth: npm run bench -- coverage [example …] [clean] [--random N] [--seeds N] [--from SEED] [--rays N] [--truth-rays N] [--truths FOLDER].
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { T95 } from '../../src/num/stats.ts'
import { CLEAN_LAMPS } from '../kit/cleanLamps.ts'
import { type Coverage, type Figures, judgeSheets, type StagedSheet, sheetsOf, traceTruth } from '../kit/coverage.ts'
import { randomLamp } from '../kit/randomLamp.ts'

const TRUTH_TRACES = 8

interface Options {
  seeds: number
  from: number
  rays: number
  truthRays: number
  /** Where truths are kept between calls. */
  truths: string | undefined
}

interface Subject {
  name: string
  lamp: Lamp
  /** In closed form; absent: traced. */
  truth?: Figures
}

function subjectsOf(names: readonly string[], random: number): Subject[] {
  const examples = Object.keys(DEMOS).filter((name) => names.length === 0 || names.includes(name))
  const clean = CLEAN_LAMPS.filter(({ name }) => names.includes('clean') || names.includes(name))
  return [
    ...examples.map((name) => ({ name, lamp: DEMOS[name]!() })),
    ...clean.map(({ name, lamp, truth }) => ({
      name,
      lamp,
      truth: new Map(Object.entries(truth).map(([figure, value]) => [figure, { value, se: 0 }])),
    })),
    ...Array.from({ length: random }, (_, i) => ({ name: `random ${i + 1}`, lamp: randomLamp(i + 1) })),
  ]
}

export async function* coverageRows(args: readonly string[]) {
  const after = (flag: string) => (args.includes(flag) ? args[args.indexOf(flag) + 1] : undefined)
  const number = (flag: string, otherwise: number) => Number(after(flag) ?? otherwise)
  const names = args.filter((arg) => arg in DEMOS || arg === 'clean' || CLEAN_LAMPS.some((c) => c.name === arg))
  const options = {
    seeds: number('--seeds', 30),
    from: number('--from', 1),
    rays: number('--rays', 200_000),
    truthRays: number('--truth-rays', 4_000_000),
    truths: after('--truths'),
  }
  const random = number('--random', 0)
  const subjects = names.length === 0 && random > 0 ? subjectsOf(['none'], random) : subjectsOf(names, random)
  for (const subject of subjects) yield { lamp: subject.name, rows: await rowsOf(subject, options) }
}

async function rowsOf({ name, lamp, truth }: Subject, options: Options) {
  const sheets: StagedSheet[] = []
  const known = truth ?? (await truthOf(name, lamp, options))
  for (let k = 0; k < options.seeds; k++)
    sheets.push(...(await sheetsOf(lamp, { seed: options.from + k, maxRays: options.rays })))
  return judgeSheets(sheets, known).map(printed)
}

const digits = (x: number, n: number) => Number(x.toPrecision(n))

const printed = (c: Coverage) => ({
  stage: c.stage,
  figure: c.figure,
  truth: digits(c.truth.value, 6),
  'its ±': digits(T95 * c.truth.se, 2),
  mean: digits(c.meanValue, 6),
  '± of it, %': digits(100 * c.halfWidth, 2),
  bias: digits(c.biasSe, 2),
  rms: digits(c.rmsSe, 3),
  'inside, %': Math.round((100 * c.inside) / Math.max(1, c.inside + c.outside)),
  of: c.inside + c.outside,
  withheld: c.withheld,
})

async function truthOf(name: string, lamp: Lamp, { truths, truthRays }: Options): Promise<Figures> {
  const file = truths && `${truths}/${name}.json`
  if (file && existsSync(file)) return new Map(JSON.parse(readFileSync(file, 'utf8')))
  const truth = await traceTruth(lamp, TRUTH_TRACES, truthRays)
  if (file) writeFileSync(file, JSON.stringify([...truth]))
  return truth
}
