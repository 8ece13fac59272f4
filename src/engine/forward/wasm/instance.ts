// One instance of the WebAssembly kernel in each thread, its memory used by one lamp after another.
import { passFresnel } from '../../../optics/grooves.ts'
import { passIdeal } from '../../../optics/idealLens.ts'
import * as P from '../../../optics/params.ts'
import { passSolid } from '../../../optics/solidLens.ts'
import { type Machine, makeMachine } from '../../../optics/wasm/machine.ts'
import type { Scene } from '../../../scene/scene.ts'
import { KERNEL } from './kernelText.ts'

const FIRST_BYTES = 1 << 22

interface Exports {
  place(...addresses: number[]): void
  /** Gives the bytes of exit records. */
  trace(seed: number, batch: number, from: number, to: number, recordBelow: number): number
}

export interface WasmInstance extends Machine, Exports {
  scene: Scene | null
}

let made: WasmInstance | null | undefined

/** Null where the thread has no WebAssembly. */
export function wasmInstance(): WasmInstance | null {
  if (made === undefined) made = typeof WebAssembly === 'undefined' ? null : makeInstance()
  return made
}

function makeInstance(): WasmInstance {
  const lens = (worked: number) => passLens(machine, worked > 0)
  const machine: WasmInstance = { ...makeMachine<Exports>(KERNEL, FIRST_BYTES, { lens }), scene: null }
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
