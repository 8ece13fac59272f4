// One instance of the WebAssembly kernel in each thread, its memory used by one lamp after another.
import { passFresnel } from '../../../optics/grooves.ts'
import { passIdeal } from '../../../optics/idealLens.ts'
import * as P from '../../../optics/params.ts'
import { RAY_SIZE } from '../../../optics/records.ts'
import { passSolid } from '../../../optics/solidLens.ts'
import { RAY_AT, STREAM_AT } from '../../../optics/wasm/slots.ts'
import type { Scene } from '../../../scene/scene.ts'
import { KERNEL } from './kernelText.ts'

const PAGE = 65_536
const FIRST_PAGES = 64

export interface WasmInstance extends Calls {
  memory: WebAssembly.Memory
  /** Whose tables are in the memory. */
  user: object | null
  scene: Scene | null
  /** Views of the memory; made anew when it grows. */
  ray: Float64Array
  stream: Int32Array
}

/** What the module exports. */
interface Calls {
  place(...addresses: number[]): void
  /** Gives the bytes of exit records. */
  trace(seed: number, batch: number, from: number, to: number, recordBelow: number): number
  startSegments(): void
  /** Gives the first ray that was not traced, because the memory, which ends at `end`, might not hold its segments. */
  record(seed: number, batch: number, from: number, to: number, end: number): number
  /** Of all segments since they were started. */
  segmentBytes(): number
}

let made: WasmInstance | null | undefined

/** Null where the thread has no WebAssembly. */
export function wasmInstance(): WasmInstance | null {
  if (made === undefined) made = typeof WebAssembly === 'undefined' ? null : makeMachine()
  return made
}

export function makeRoom(machine: WasmInstance, bytes: number): void {
  const missing = bytes - machine.memory.buffer.byteLength
  if (missing <= 0) return
  machine.memory.grow(Math.ceil(missing / PAGE))
  lookAtMemory(machine)
}

function lookAtMemory(machine: WasmInstance): void {
  machine.ray = new Float64Array(machine.memory.buffer, RAY_AT, RAY_SIZE)
  machine.stream = new Int32Array(machine.memory.buffer, STREAM_AT, 3)
}

function makeMachine(): WasmInstance {
  const memory = new WebAssembly.Memory({ initial: FIRST_PAGES })
  // Functions whose last digit a library decides are the host's: both engines then agree to the bit.
  const { pow, log, exp, acos, cos, sin } = Math
  const host = { pow, log, exp, acos, cos, sin, lens: (worked: number) => passLens(machine, worked > 0) }
  const bytes = Uint8Array.from(atob(KERNEL), (c) => c.charCodeAt(0))
  const abort = () => {
    throw new Error('the WebAssembly kernel has stopped')
  }
  const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes), { env: { memory, abort }, host })
  const { place, trace, startSegments, record, segmentBytes } = exports as unknown as Calls
  const none = { ray: new Float64Array(0), stream: new Int32Array(0) }
  const machine: WasmInstance = {
    memory,
    user: null,
    scene: null,
    place,
    trace,
    startSegments,
    record,
    segmentBytes,
    ...none,
  }
  lookAtMemory(machine)
  return machine
}

/** What few rays do at the lens, by the reference's own functions on the kernel's ray. */
function passLens({ scene, ray, stream }: WasmInstance, worked: boolean): number {
  const { params, rings } = scene!
  const kind = params[P.lensKind]!
  if (kind === 3) return passFresnel(ray, stream, params, rings, worked)
  if (kind === 2) return passSolid(ray, stream, params, worked)
  passIdeal(ray, params)
  return 0
}
