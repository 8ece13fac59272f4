// Lamps a second on one core, processor time: those that a search evaluates, by what is wanted of them; those that are built within tolerances; and what a wish takes.
import { evaluateLamp } from '../../src/job/choose/evaluate.ts'
import type { WishName } from '../../src/job/choose/figures.ts'
import { traceCell, traceLight } from '../../src/job/sweep/cell.ts'
import { inlineTracer } from '../../src/job/sweep/inlineTracer.ts'
import { runTolerances } from '../../src/job/tolerances/run.ts'
import { runWish } from '../../src/job/wish/run.ts'
import { inlineProposer } from '../../src/job/wish/service.ts'
import type { Wish } from '../../src/job/wish/wish.ts'
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

async function medianMs(work: () => Promise<unknown>, count = TIMES): Promise<number> {
  const times: number[] = []
  await work()
  for (let i = 0; i < count; i++) {
    const began = process.cpuUsage()
    await work()
    const { user, system } = process.cpuUsage(began)
    times.push((user + system) / 1000)
  }
  return times.sort((a, b) => a - b)[count >> 1] ?? Number.NaN
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

/** As the page and the command line build them. */
const BUILT_RAYS = 1 << 16
const BUILT_AT_ONCE = 3

/** Each lamp is traced twice with half of the rays. `beam read`: compiled, traced and read without hot spots and findings; a device could at most save that share. */
export async function builtPerSecond() {
  const rows: { lamp: string; 'lamps/s': number; 'beam read, of a trace': number }[] = []
  for (const [name, make] of Object.entries(DEMOS)) {
    const lamp = make()
    const settings = { lamps: 420, rays: BUILT_RAYS, seed: 1 }
    const indices = Array.from({ length: BUILT_AT_ONCE }, (_, i) => 1 + i)
    const ms = await medianMs(() => runTolerances([inlineTracer()], lamp, settings, indices, () => {}), 3)
    const options = { seed: 1, rays: BUILT_RAYS / 2 }
    const light = await medianMs(() => traceLight(lamp, options))
    const whole = await medianMs(() => traceCell(lamp, options))
    rows.push({
      lamp: name,
      'lamps/s': Math.round((1e5 * BUILT_AT_ONCE) / ms) / 100,
      'beam read, of a trace': Math.round((100 * light) / whole) / 100,
    })
  }
  return rows
}

const WISHES: Record<string, Wish> = {
  'a million cd, within 800 mm': { candela: 1e6, minutes: 10, lengthMm: 800 },
  '50 lx on 10 m at 30 m': { lux: 50, distanceM: 30, sizeM: 10, minutes: 30 },
}

/** From a wish to whole lamps, all kinds, in processor seconds. */
export async function wishTimes() {
  const rows: { wish: string; seconds: number; lamps: number; 'lamps/min': number }[] = []
  for (const [name, wish] of Object.entries(WISHES)) {
    const began = process.cpuUsage()
    const { outcomes } = await runWish([inlineProposer()], wish, { rays: BUILT_RAYS, seed: 1 })
    const { user, system } = process.cpuUsage(began)
    const seconds = (user + system) / 1e6
    const lamps = outcomes.filter((o) => o.ok).length
    rows.push({
      wish: name,
      seconds: Math.round(seconds),
      lamps,
      'lamps/min': Math.round((600 * lamps) / seconds) / 10,
    })
  }
  return rows
}
