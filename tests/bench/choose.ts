// Lamps a second that a search evaluates on one core, by what is wanted of them: processor time, medians of nine, beside a trace of the usual rays.
import { evaluateLamp } from '../../src/job/choose/evaluate.ts'
import type { WishName } from '../../src/job/choose/figures.ts'
import { DEMOS } from '../../src/library/demos.ts'

const RAYS = 1 << 14
const TIMES = 9
const WANTED: Record<string, readonly WishName[]> = {
  'axis alone': ['axialIntensityCd'],
  'beam and target': ['axialIntensityCd', 'beamAngleDeg'],
  'hot spots too': ['axialIntensityCd', 'hot.front'],
  'mass alone': ['massG'],
  'junction alone': ['junctionC'],
}

async function medianMs(work: () => Promise<unknown>): Promise<number> {
  const times: number[] = []
  await work()
  for (let i = 0; i < TIMES; i++) {
    const began = process.cpuUsage()
    await work()
    const { user, system } = process.cpuUsage(began)
    times.push((user + system) / 1000)
  }
  return times.sort((a, b) => a - b)[TIMES >> 1] ?? Number.NaN
}

/** `to the whole`: how many lamps in the time of one with all of its sheet. */
export async function lampsPerSecond() {
  const rows: { lamp: string; wanted: string; 'lamps/s': number; 'to the whole': number }[] = []
  for (const [name, make] of Object.entries(DEMOS)) {
    const lamp = make()
    const ms = new Map<string, number>()
    for (const [wanted, figures] of Object.entries(WANTED))
      ms.set(wanted, await medianMs(() => evaluateLamp(lamp, { seed: 1, rays: RAYS, figures })))
    const whole = ms.get('hot spots too') ?? Number.NaN
    for (const [wanted, one] of ms)
      rows.push({
        lamp: name,
        wanted,
        'lamps/s': Math.round(1e4 / one) / 10,
        'to the whole': Math.round((10 * whole) / one) / 10,
      })
  }
  return rows
}
