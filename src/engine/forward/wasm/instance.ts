// One instance of the WebAssembly kernel in each thread, its memory used by one lamp after another.
import { passSolid } from '../../../optics/solidLens.ts'
import { type Machine, makeMachine } from '../../../optics/wasm/machine.ts'
import { KERNEL } from './kernelText.ts'

const FIRST_BYTES = 1 << 22

interface Exports {
  place(...addresses: number[]): void
  /** Gives the bytes of exit records. */
  trace(seed: number, batch: number, from: number, to: number, recordBelow: number): number
  startSegments(): void
  /** Gives the first ray that was not traced, because the memory, which ends at `end`, might not hold its segments. */
  record(seed: number, batch: number, from: number, to: number, end: number): number
  /** Of all segments since they were started. */
  segmentBytes(): number
}

export interface WasmInstance extends Machine, Exports {
  /** Of the scene in the memory. */
  params: Float32Array
}

let made: WasmInstance | null | undefined

/** Null where the thread has no WebAssembly. */
export function wasmInstance(): WasmInstance | null {
  if (made === undefined) made = typeof WebAssembly === 'undefined' ? null : makeInstance()
  return made
}

function makeInstance(): WasmInstance {
  /** Through a solid lens, by the reference's own function on the kernel's ray. */
  const solid = (curved: number) => passSolid(machine.ray, machine.stream, machine.params, curved > 0)
  const machine: WasmInstance = { ...makeMachine<Exports>(KERNEL, FIRST_BYTES, { solid }), params: new Float32Array(0) }
  return machine
}
