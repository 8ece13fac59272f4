// From the start of the process to its end, against Node alone with nothing to do: what the command line adds to it. One round of all after another,
// so that the machine's other work falls on all alike.
import { spawnSync } from 'node:child_process'

declare const __ROOT__: string
const ROUNDS = 11

const CASES: Record<string, string[]> = {
  'Node alone': ['-e', '0'],
  '--version': ['scripts/lampwright.mjs', '--version'],
  'trace --help': ['scripts/lampwright.mjs', 'trace', '--help'],
  'sweep FILE --list': ['scripts/lampwright.mjs', 'sweep', 'public/examples/bench-check.lamp.json', '--list'],
}

export function startTimes() {
  const took = (args: string[]) => {
    const began = performance.now()
    spawnSync(process.execPath, args, { cwd: __ROOT__, stdio: 'ignore' })
    return performance.now() - began
  }
  const times = Object.values(CASES).map((args) => {
    took(args) // makes what later starts find
    return { args, ms: [] as number[] }
  })
  for (let i = 0; i < ROUNDS; i++) for (const { args, ms } of times) ms.push(took(args))
  const middles = times.map(({ ms }) => ms.sort((a, b) => a - b)[ROUNDS >> 1]!)
  return Object.keys(CASES).map((start, i) => ({
    start,
    'median, ms': Math.round(middles[i]!),
    'to Node alone': Math.round((100 * middles[i]!) / middles[0]!) / 100,
  }))
}
