// WebGPU on Node, by the optional package `webgpu`.
import { type Opened, openDevice, wordsOf } from './device.ts'

export async function openNodeDevice(): Promise<Opened> {
  try {
    const name = 'webgpu' // not in a browser's bundle, and not everywhere installed
    const { create, globals } = (await import(/* @vite-ignore */ name)) as {
      create(options: string[]): GPU
      globals: object
    }
    Object.assign(globalThis, globals)
    kept = create([])
    return await openDevice(kept)
  } catch (error) {
    return { ok: false, why: `the package webgpu is not there (${wordsOf(error)})` }
  }
}

/** The package ends its devices when this is collected. */
let kept: GPU | undefined
