// Rays a second on one core and the time to the first sheet, by example; with --against FOLDER beside those of another checkout, in turn, so that the
// machine's other work falls on both alike: npm run bench -- rays [example …] [--against FOLDER] [--rounds N].
import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { DEMOS } from '../../src/library/demos.ts'

declare const __ROOT__: string
const ROUNDS = 7

type What = 'rays' | 'first'

interface Side {
  process: ChildProcess
  ask(what: What, lamp: string): Promise<number>
}

function startSide(folder: string): Side {
  const outfile = join(folder, 'node_modules/.cache/lampwright/bench-rays.mjs')
  const contents = readFileSync(join(__ROOT__, 'tests/bench/raysChild.ts'), 'utf8')
  const bundled = spawnSync(
    join(__ROOT__, 'node_modules/.bin/esbuild'),
    [
      '--bundle',
      '--platform=node',
      '--format=esm',
      '--target=node20',
      '--minify-syntax',
      '--external:webgpu',
      '--loader=ts',
      '--loader:.wgsl=text',
      `--define:__ROOT__=${JSON.stringify(folder)}`,
      `--outfile=${outfile}`,
    ],
    { input: contents, cwd: join(folder, 'tests/bench'), encoding: 'utf8' },
  )
  if (bundled.status !== 0) throw new Error(bundled.stderr)
  const child = spawn(process.execPath, [outfile], { stdio: ['pipe', 'pipe', 'inherit'] })
  const answers = createInterface({ input: child.stdout })[Symbol.asyncIterator]()
  return {
    process: child,
    async ask(what, lamp) {
      child.stdin.write(`${what} ${lamp}\n`)
      return Number((await answers.next()).value)
    },
  }
}

const median = (values: number[]) => values.toSorted((a, b) => a - b)[values.length >> 1]!

export async function* raysRows(args: readonly string[]) {
  const after = (flag: string) => (args.includes(flag) ? args[args.indexOf(flag) + 1] : undefined)
  const rounds = Number(after('--rounds') ?? ROUNDS)
  const against = after('--against')
  const sides = [__ROOT__, ...(against ? [against] : [])].map(startSide)
  const named = args.filter((arg) => arg in DEMOS)
  for (const lamp of named.length > 0 ? named : Object.keys(DEMOS)) {
    const took: Record<What, number[][]> = { rays: [], first: [] }
    // The first round warms both up.
    for (let round = 0; round <= rounds; round++)
      for (const what of ['rays', 'first'] as const) {
        const pair = new Array<number>(sides.length)
        const order = round % 2 ? sides.keys() : [...sides.keys()].reverse()
        for (const i of order) pair[i] = await sides[i]!.ask(what, lamp)
        if (round > 0) took[what].push(pair)
      }
    yield { lamp, ...rowOf(took) }
  }
  for (const side of sides) side.process.stdin!.end()
}

const rounded = (x: number) => Math.round(1000 * x) / 1000

function rowOf({ rays, first }: Record<What, number[][]>) {
  const own = (pairs: number[][]) => median(pairs.map(([a]) => a!))
  const ratio = (of: (a: number, b: number) => number, pairs: number[][]) =>
    rounded(median(pairs.map(([a, b]) => of(a!, b!))))
  const row = {
    'million rays/s': rounded(1e-6 / own(rays)),
    'first sheet, ms': rounded(1e3 * own(first)),
  }
  if (rays[0]!.length < 2) return row
  return {
    ...row,
    'rays/s to the other’s': ratio((a, b) => b / a, rays),
    'first sheet to the other’s': ratio((a, b) => a / b, first),
  }
}
