// The kernel of solids, loaded once for a file of tests.
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { type Kernel, loadKernel } from '../../src/solids/kernel.ts'

let loading: Promise<Kernel> | undefined

export const solidKernel = (): Promise<Kernel> => {
  loading ??= loadKernel(readFileSync(createRequire(import.meta.url).resolve('manifold-3d/manifold.wasm')))
  return loading
}
