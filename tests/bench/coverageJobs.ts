// Traces for the count of coverage, in processes of their own: each job is one trace of one seed, so its result hangs on nothing else. Results are
// kept line by line in a file, by which a later call goes on from where this one ended.
import { type ChildProcess, fork } from 'node:child_process'
import { appendFileSync, existsSync, readFileSync } from 'node:fs'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { CLEAN_LAMPS } from '../kit/cleanLamps.ts'
import { type Figures, type StagedSheet, sheetsOf, truthTrace } from '../kit/coverage.ts'
import { randomLamp } from '../kit/randomLamp.ts'

export interface Job {
  lamp: string
  /** A long trace for the truth, or sheets. */
  kind: 'truth' | 'sheets'
  /** Of sheets; of a truth, which of its traces it is. */
  seed: number
  rays: number
  /** End after so many sheets. */
  sheets?: number
}
type Line = {
  job: string
  sheets: { stage: string; figures: [string, number, number][]; absent: [string, string][] }[]
}

export const jobKey = ({ lamp, kind, seed, rays, sheets = 0 }: Job): string =>
  [lamp, kind, seed, rays, sheets].join(' | ')

/** Of `random 7`, an example, or a lamp in closed form. */
function lampNamed(name: string): Lamp {
  const random = /^random (\d+)$/.exec(name)
  if (random) return randomLamp(Number(random[1]))
  return DEMOS[name]?.() ?? CLEAN_LAMPS.find((c) => c.name === name)!.lamp
}

async function doJob(job: Job): Promise<Line> {
  const lamp = lampNamed(job.lamp)
  const sheets: StagedSheet[] =
    job.kind === 'truth'
      ? [{ stage: 'truth', figures: await truthTrace(lamp, job.seed, job.rays), absent: new Map() }]
      : await sheetsOf(lamp, { seed: job.seed, maxRays: job.rays, ...(job.sheets && { sheets: job.sheets }) })
  return {
    job: jobKey(job),
    sheets: sheets.map(({ stage, figures, absent }) => ({
      stage,
      figures: [...figures].map(([name, { value, se }]) => [name, value, se]),
      absent: [...absent],
    })),
  }
}

const stagedOf = ({ sheets }: Line): StagedSheet[] =>
  sheets.map(({ stage, figures, absent }) => ({
    stage,
    figures: new Map(figures.map(([name, value, se]) => [name, { value, se }])) satisfies Figures,
    absent: new Map(absent),
  }))

/** A process that was started for jobs does them until its parent ends it. */
export function serveJobs(): void {
  process.on('message', async (job: Job) => process.send!(await doJob(job)))
}

/**
 * Sheets of the jobs by their key, `processes` at a time; `keep`: the file of results; after `minutes` no more are begun. Truths come first, then seed by
 * seed, so that what is there when time is up is of all lamps.
 */
export async function doJobs(
  jobs: readonly Job[],
  { processes, keep, minutes }: { processes: number; keep: string | undefined; minutes: number },
): Promise<Map<string, StagedSheet[]>> {
  const done = new Map<string, StagedSheet[]>()
  const take = (line: Line) => done.set(line.job, stagedOf(line))
  if (keep && existsSync(keep))
    // A call that was ended may have left half a line.
    for (const text of readFileSync(keep, 'utf8').split('\n')) if (text.endsWith('}')) take(JSON.parse(text))
  const rank = ({ kind, seed }: Job) => (kind === 'truth' ? 0 : seed)
  const waiting = jobs.filter((job) => !done.has(jobKey(job))).sort((a, b) => rank(b) - rank(a) || a.rays - b.rays)
  const all = waiting.length
  const began = performance.now()
  const seconds = () => Math.round((performance.now() - began) / 1000)
  const next = () => (seconds() < 60 * minutes ? waiting.pop() : undefined)
  const finish = (line: Line) => {
    take(line)
    if (keep) appendFileSync(keep, `\n${JSON.stringify(line)}`)
    if (waiting.length % 50 === 0) console.error(`${all - waiting.length} of ${all} traces begun, ${seconds()} s`)
  }
  if (processes <= 1) for (let job = next(); job; job = next()) finish(await doJob(job))
  else await Promise.all(Array.from({ length: Math.min(processes, all) }, () => feed(next, finish)))
  return done
}

/** One process, given one job after the other. */
async function feed(next: () => Job | undefined, finish: (line: Line) => void): Promise<void> {
  const child = fork(process.argv[1]!, ['coverage', '--serve'])
  try {
    for (let job = next(); job; job = next()) finish(await ask(child, job))
  } finally {
    child.kill()
  }
}

const ask = (child: ChildProcess, job: Job): Promise<Line> =>
  new Promise((resolve, reject) => {
    const gone = () => reject(new Error(`coverage: the process of ${jobKey(job)} has ended`))
    child.once('exit', gone)
    child.once('message', (line) => {
      child.off('exit', gone)
      resolve(line as Line)
    })
    child.send(job)
  })
