// How often ± at 95 % holds the truth, counted over lamps, stages and seeds:
// npm run bench -- coverage [example …] [clean] [--random N | N,N,…] [--seeds N] [--from SEED] [--stages first,second,200000,1000000] [--truth-rays N]
// [--truth-traces N] [--processes N] [--minutes N] [--keep FILE] [--out FILE] [--figures NAME,NAME]. `examples`: all of them, which is what no name at all means.
import { writeFileSync } from 'node:fs'
import { DEMOS } from '../../src/library/demos.ts'
import { T95 } from '../../src/num/stats.ts'
import { CLEAN_LAMPS } from '../kit/cleanLamps.ts'
import { type Coverage, type Figures, judgeSheets, truthOf } from '../kit/coverage.ts'
import { doJobs, type Job, jobKey, serveJobs } from './coverageJobs.ts'

/** Long enough for the second sheet. */
const LOOKS = 1 << 17
const WANTED = 93
/** Fewer sheets of one lamp than this say nothing of a cell. */
const SPEAKS_FROM = 20

interface Options {
  lamps: string[]
  seeds: number
  from: number
  stages: string[]
  truthRays: number
  truthTraces: number
  processes: number
  minutes: number
  keep: string | undefined
  out: string | undefined
  figures: string[]
}
type Cell = Coverage & { lamp: string }

function optionsOf(args: readonly string[]): Options {
  const after = (flag: string) => (args.includes(flag) ? args[args.indexOf(flag) + 1] : undefined)
  const number = (flag: string, otherwise: number) => Number(after(flag) ?? otherwise)
  const random = randomNames(after('--random') ?? '0')
  const clean = CLEAN_LAMPS.map(({ name }) => name).filter((name) => args.includes('clean') || args.includes(name))
  const some = Object.keys(DEMOS).filter((name) => args.includes(name))
  const none = random.length + clean.length + some.length === 0
  return {
    lamps: [...(none || args.includes('examples') ? Object.keys(DEMOS) : some), ...clean, ...random],
    seeds: number('--seeds', 30),
    from: number('--from', 1),
    stages: (after('--stages') ?? 'first,second,200000').split(','),
    truthRays: number('--truth-rays', 4_000_000),
    truthTraces: number('--truth-traces', 8),
    processes: number('--processes', 1),
    minutes: number('--minutes', Number.POSITIVE_INFINITY),
    keep: after('--keep'),
    out: after('--out'),
    figures: after('--figures')?.split(',') ?? [],
  }
}

/** `7`: the first seven; `7,`: the seventh alone; `7,9`: these two. */
const randomNames = (of: string): string[] =>
  (of.includes(',') ? of.split(',').filter(Boolean) : Array.from({ length: Number(of) }, (_, i) => i + 1)).map(
    (n) => `random ${n}`,
  )

/** In closed form; null: to be traced. */
function knownTruth(lamp: string): Figures | null {
  const clean = CLEAN_LAMPS.find(({ name }) => name === lamp)
  return clean ? new Map(Object.entries(clean.truth).map(([figure, value]) => [figure, { value, se: 0 }])) : null
}

const truthJobs = (lamp: string, { truthTraces, truthRays }: Options): Job[] =>
  knownTruth(lamp)
    ? []
    : Array.from({ length: truthTraces }, (_, seed) => ({ lamp, kind: 'truth', seed, rays: truthRays }))

/** The shortest run gives its first sheets too. */
function sheetJobs(lamp: string, { seeds, from, stages }: Options): Job[] {
  const rays = stages.flatMap((stage) => (Number(stage) > 0 ? [Number(stage)] : []))
  const firstSheets = stages.includes('second') ? 2 : 1
  return Array.from({ length: seeds }, (_, k) => ({ lamp, kind: 'sheets' as const, seed: from + k })).flatMap((of) =>
    rays.length > 0 ? rays.map((r) => ({ ...of, rays: r })) : [{ ...of, rays: LOOKS, sheets: firstSheets }],
  )
}

/** Prints the table, and writes it where `--out` says. As a process of another call it does that call's jobs. */
export async function coverage(args: readonly string[]): Promise<void> {
  if (args.includes('--serve')) return serveJobs()
  const options = optionsOf(args)
  const jobs = options.lamps.flatMap((lamp) => [...truthJobs(lamp, options), ...sheetJobs(lamp, options)])
  const done = await doJobs(jobs, options)
  const cells = options.lamps
    .flatMap((lamp) => cellsOf(lamp, options, done))
    .filter(({ inside, outside, withheld }) => inside + outside + withheld > 0)
  const text = [...groupsOf(cells, options), ...fewOf(cells)].join('\n')
  console.log(text)
  if (options.out) writeFileSync(options.out, `${text}\n`)
}

function cellsOf(lamp: string, options: Options, done: Awaited<ReturnType<typeof doJobs>>): Cell[] {
  const traced = truthJobs(lamp, options).flatMap((job) => done.get(jobKey(job))?.[0]?.figures ?? [])
  const truth = knownTruth(lamp) ?? truthOf(traced.length > 1 ? traced : [])
  const wanted = new Set(options.stages.map((stage) => (Number(stage) > 0 ? settledName(Number(stage)) : stage)))
  const shortest = Math.min(...options.stages.map(Number).filter((n) => n > 0))
  const sheets = sheetJobs(lamp, options).flatMap((job) =>
    (done.get(jobKey(job)) ?? []).filter(
      ({ stage }) => wanted.has(stage) && (stage.startsWith('settled') || job.sheets || job.rays === shortest),
    ),
  )
  return judgeSheets(sheets, truth)
    .filter(({ figure }) => options.figures.length === 0 || options.figures.includes(figure))
    .map((row) => ({ ...row, lamp }))
}

/** A run ends on a whole number of rays for each of the sixteen batches. */
const settledName = (rays: number) => `settled ${Math.ceil(rays / 16) * 16}`

const GROUPS = [
  ['examples', (lamp: string) => lamp in DEMOS],
  ['in closed form', (lamp: string) => CLEAN_LAMPS.some(({ name }) => name === lamp)],
  ['random lamps', (lamp: string) => lamp.startsWith('random ')],
] as const

/** One row a figure, one column a stage: share inside, of how many sheets, share withheld, and ± against the scatter (median of the lamps). */
function groupsOf(cells: Cell[], options: Options): string[] {
  return GROUPS.flatMap(([name, has]) => {
    const group = cells.filter(({ lamp }) => has(lamp))
    if (group.length === 0) return []
    const stages = [...new Set(group.map(({ stage }) => stage))]
    const lamps = new Set(group.map(({ lamp }) => lamp)).size
    return [
      `${name}: ${lamps} lamps, seeds ${options.from} to ${options.from + options.seeds - 1} at most; inside, % (of sheets; withheld, %; ± / scatter)`,
      '',
      `| figure | ${stages.join(' | ')} |`,
      `| --- | ${stages.map(() => '---').join(' | ')} |`,
      ...[...new Set(group.map(({ figure }) => figure))].map(
        (figure) =>
          `| ${[figure, ...stages.map((stage) => summed(group.filter((c) => c.figure === figure && c.stage === stage)))].join(' | ')} |`,
      ),
      '',
    ]
  })
}

const digits = (x: number, n: number) => Number(x.toPrecision(n))

function summed(cells: Cell[]): string {
  const sum = (of: 'inside' | 'outside' | 'withheld') => cells.reduce((total, c) => total + c[of], 0)
  const [inside, counted] = [sum('inside'), sum('inside') + sum('outside')]
  if (counted === 0) return `– (0; ${sum('withheld') > 0 ? 100 : 0})`
  const ratios = cells.map((c) => c.seOverScatter).filter((r) => Number.isFinite(r))
  const ratio = ratios.length > 0 ? `; ${digits(ratios.sort((a, b) => a - b)[ratios.length >> 1]!, 2)}` : ''
  const withheld = Math.round((100 * sum('withheld')) / (counted + sum('withheld')))
  return `${((100 * inside) / counted).toFixed(1)} (${counted}; ${withheld}${ratio})`
}

/** Cells of one lamp that hold the truth less often than wanted. */
function fewOf(cells: Cell[]): string[] {
  const few = cells.filter(
    ({ inside, outside }) => inside + outside >= SPEAKS_FROM && 100 * inside < WANTED * (inside + outside),
  )
  return [
    `lamps by themselves, under ${WANTED} % of ${SPEAKS_FROM} sheets or more`,
    '',
    '| lamp | stage | figure | inside, % | of | withheld | truth | its ± | mean | ± of it, % | bias, se | rms, se | ± / scatter |',
    '| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |',
    ...few.map((c) => {
      const of = c.inside + c.outside
      const parts = [
        ...[c.lamp, c.stage, c.figure, Math.round((100 * c.inside) / of), of, c.withheld],
        ...[digits(c.truth.value, 6), digits(T95 * c.truth.se, 2), digits(c.meanValue, 6)],
        ...[100 * c.halfWidth, c.biasSe, c.rmsSe, c.seOverScatter].map((x) => digits(x, 2)),
      ]
      return `| ${parts.join(' | ')} |`
    }),
  ]
}
