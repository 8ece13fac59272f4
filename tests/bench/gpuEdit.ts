// What an edit costs on a graphics device besides its rays: a lens that is dragged, scene after scene, milliseconds and bytes.
import { openNodeDevice } from '../../src/engine/gpu/deviceNode.ts'
import { prepare, prepareSync } from '../../src/engine/gpu/gpuEngine.ts'
import { RECORD_FLOATS } from '../../src/engine/gpu/readBack.ts'
import type { GpuTracer } from '../../src/engine/gpu/types.ts'
import { solveOperatingPoint } from '../../src/heat/operating.ts'
import { chooseShape } from '../../src/job/beam/pilot.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import { BATCHES } from '../../src/run/types.ts'
import { compile } from '../../src/scene/compile.ts'
import { type Dragged, dragOnDevice } from './drag.ts'

export interface EditCost {
  /** The first of its make: shader, check against the processor. */
  'ms first': number
  /** Every other edit until the device is ready for its rays. */
  'ms an edit': number
  /** A first sheet of so many rays, tallies, maps and few exit records read back. */
  'ms look of 2^14 rays': number
  'ms look of 2^20 rays': number
  'MB read back': number
}

const median = (values: number[]) => values.sort((a, b) => a - b)[values.length >> 1]!
const round = (x: number) => Math.round(100 * x) / 100
const EXITS = 1 << 15

export async function gpuEdits(
  edits = 9,
): Promise<{ device: string; cost: EditCost; drag: Dragged[] } | { why: string }> {
  const opened = await openNodeDevice()
  if (!opened.ok) return { why: opened.why }
  const { machine } = opened
  const times = { prepare: [] as number[], small: [] as number[], large: [] as number[] }
  let first = 0
  let bytes = 0
  for (let i = 0; i <= edits; i++) {
    const lamp = gannetHead()
    if (lamp.lens) lamp.lens = { ...lamp.lens, zMm: 1050 + i }
    const scene = compile(lamp, solveOperatingPoint(lamp))
    const shape = chooseShape(scene, lamp)
    const { size, windowLm } = tallyLayout(shape)
    bytes = BATCHES * (8 * windowLm + 4 * (size - windowLm)) + 4 * RECORD_FLOATS * EXITS
    const options = { seed: 1, plainRandom: false, exitsBelow: EXITS }
    const from = performance.now()
    let gpuTracer: GpuTracer | null = i > 0 ? prepareSync(machine, scene, shape, options) : null
    if (!gpuTracer) {
      const prepared = await prepare(machine, scene, shape, options)
      if (!prepared.ok) return { why: prepared.why }
      gpuTracer = prepared.gpuTracer
    }
    if (i > 0) times.prepare.push(performance.now() - from)
    else first = performance.now() - from
    const small = performance.now()
    await gpuTracer.trace(0, (1 << 14) / BATCHES)
    const large = performance.now()
    if (i > 0) times.small.push(large - small)
    // A software device would take half a minute over each.
    if (!machine.software) {
      await gpuTracer.trace(0, (1 << 20) / BATCHES)
      if (i > 0) times.large.push(performance.now() - large)
    }
    gpuTracer.close()
  }
  const drag = await dragOnDevice(machine)
  machine.device.destroy()
  return {
    device: machine.name,
    drag,
    cost: {
      'ms first': round(first),
      'ms an edit': round(median(times.prepare)),
      'ms look of 2^14 rays': round(median(times.small)),
      'ms look of 2^20 rays': times.large.length > 0 ? round(median(times.large)) : Number.NaN,
      'MB read back': round(bytes / 1e6),
    },
  }
}
