// How honest the ± are: npm run bench -- coverage [example …] [--seeds N] [--from SEED] [--rays N] [--truth-rays N] [--random N] [--json FILE].
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { CLEAN_LAMPS } from '../kit/cleanLamps.ts'
import { type Figures, judgeLooks, type Look, looksOf, traceTruth } from '../kit/coverage.ts'
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
  const looks: Look[] = []
  const known = truth ?? (await truthOf(name, lamp, options))
  for (let k = 0; k < options.seeds; k++)
    looks.push(...(await looksOf(lamp, { seed: options.from + k, maxRays: options.rays })))
  return judgeLooks(looks, known)
}

async function truthOf(name: string, lamp: Lamp, { truths, truthRays }: Options): Promise<Figures> {
  const file = truths && `${truths}/${name}.json`
  if (file && existsSync(file)) return new Map(JSON.parse(readFileSync(file, 'utf8')))
  const truth = await traceTruth(lamp, TRUTH_TRACES, truthRays)
  if (file) writeFileSync(file, JSON.stringify([...truth]))
  return truth
}
