// Speed of the graphics engine on whatever device is there: rays per second, full physics, maps and ledger and all.
import { openNodeDevice } from '../../src/engine/gpu/deviceNode.ts'
import { type Guest, prepare } from '../../src/engine/gpu/gpuEngine.ts'
import { operatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/shape.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { DEMOS } from '../../src/library/demos.ts'
import { BATCHES } from '../../src/run/types.ts'
import { compile } from '../../src/scene/compile.ts'

export interface GpuSpeed {
  lamp: string
  'million rays/s': number
  /** What a stretch costs beside its rays: clearing, reading back. */
  'ms beside': number
  'ms for 2^20 rays': number
}

const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1]!
const REPEATS = 5

export async function gpuSpeeds(): Promise<{ device: string; rows: GpuSpeed[] } | { why: string }> {
  const opened = await openNodeDevice()
  if (!opened.ok) return { why: opened.why }
  const { machine } = opened
  const rows: GpuSpeed[] = []
  for (const make of Object.values(DEMOS)) {
    const lamp: Lamp = make()
    const scene = compile(lamp, operatingPoint(lamp))
    const options = { seed: 1, plainRandom: false, exitsBelow: 0 }
    const prepared = await prepare(machine, scene, chooseShape(scene, lamp), options)
    if (!prepared.ok) return { why: `${lamp.name}: ${prepared.why}` }
    rows.push(await speedOf(lamp.name, prepared.guest))
    prepared.guest.close()
  }
  machine.device.destroy()
  return { device: machine.name, rows }
}

/** Two lengths of stretch: the difference is rays alone. The longer one takes about a second. */
async function speedOf(lamp: string, guest: Guest): Promise<GpuSpeed> {
  let rays = 1 << 14
  let took = 0
  for (; took < 250 && rays < 2 ** 29; rays *= 2) took = await time(guest, rays)
  const long: number[] = []
  const short: number[] = []
  const small: number[] = []
  for (let i = 0; i < REPEATS; i++) {
    long.push(await time(guest, 4 * rays))
    short.push(await time(guest, rays))
    small.push(await time(guest, 1 << 16))
  }
  const perMs = (3 * rays * BATCHES) / (median(long) - median(short))
  return {
    lamp,
    'million rays/s': Math.round(perMs / 10) / 100,
    'ms beside': Math.round(100 * (median(short) - (rays * BATCHES) / perMs)) / 100,
    'ms for 2^20 rays': Math.round(100 * median(small)) / 100,
  }
}

async function time(guest: Guest, rays: number): Promise<number> {
  const from = performance.now()
  await guest.trace(0, rays)
  return performance.now() - from
}
