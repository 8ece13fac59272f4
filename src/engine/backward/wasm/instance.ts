// One instance of the backward kernel in each thread, its memory used by one scene after another.
import { passSolid } from '../../../optics/solidLens.ts'
import { type Machine, makeMachine } from '../../../optics/wasm/machine.ts'
import type { Scene } from '../../../scene/scene.ts'
import type { SpectralCells } from '../spectrum.ts'
import { BACKWARD } from './kernelText.ts'

const FIRST_BYTES = 1 << 19

interface Exports {
  place(...addresses: number[]): void
  /** Rays [from, to) of a batch. */
  trace(seed: number, batch: number, from: number, to: number): void
}

export interface BackwardMachine extends Machine, Exports {
  scene: Scene | null
  /** Of that scene. */
  params: Float32Array
  /** Address of the sequence's numbers. */
  numbersAt: number
  mixture: SpectralCells['mixture']
  /** View of the memory, where `mixture` writes. */
  ratio: Float64Array
}

let made: BackwardMachine | null | undefined

/** Null where the thread has no WebAssembly. */
export function backwardMachine(): BackwardMachine | null {
  if (made === undefined) made = typeof WebAssembly === 'undefined' ? null : makeInstance()
  return made
}

function makeInstance(): BackwardMachine {
  const host = {
    solid: (curved: number) => passSolid(machine.ray, machine.stream, machine.params, curved > 0),
    mixture: (nm: number, line: number) => machine.mixture(machine.ratio, nm, line > 0),
  }
  const none = { scene: null, params: new Float32Array(0), mixture: () => {}, ratio: new Float64Array(0), numbersAt: 0 }
  const machine: BackwardMachine = { ...makeMachine<Exports>(BACKWARD, FIRST_BYTES, host), ...none }
  return machine
}
