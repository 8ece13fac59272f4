// WebGPU on Node, by the optional package `webgpu`.
import { execFileSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { messageOf, type Opened, openDevice } from './device.ts'

export async function openNodeDevice(): Promise<Opened> {
  if (process.platform === 'linux' && !hasVulkan())
    return { ok: false, why: 'no graphics driver for Vulkan is installed here' }
  try {
    const name = 'webgpu' // not in a browser's bundle, and not everywhere installed
    const { create, globals } = (await import(/* @vite-ignore */ name)) as {
      create(options: string[]): GPU
      globals: object
    }
    Object.assign(globalThis, globals)
    instance = create([])
    return await openDevice(instance)
  } catch (error) {
    return { ok: false, why: `the package webgpu is not there (${messageOf(error).split('\n', 1)[0]})` }
  }
}

/** The package ends its devices when this is collected. */
let instance: GPU | undefined

const LOADER = 'libvulkan.so.1'

/** Asked first, because the package complains on stderr, in its own words, where there is no loader. When in doubt, yes. */
function hasVulkan(): boolean {
  const named = (process.env['LD_LIBRARY_PATH'] ?? '').split(':').filter(Boolean)
  if (named.some((folder) => existsSync(join(folder, LOADER)))) return true
  for (const ldconfig of ['/sbin/ldconfig', '/usr/sbin/ldconfig']) {
    if (!existsSync(ldconfig)) continue
    try {
      return execFileSync(ldconfig, ['-p'], { encoding: 'utf8' }).includes(LOADER)
    } catch {
      return true
    }
  }
  return true
}
