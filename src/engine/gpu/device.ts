// A device to compute on, or the reason why there is none, in words.

/** Uses of a buffer and ways of mapping it, by the standard (W3C WebGPU, GPUBufferUsage and GPUMapMode). */
export const MAP_READ = 0x1
export const COPY_SRC = 0x4
export const COPY_DST = 0x8
export const UNIFORM = 0x40
export const STORAGE = 0x80
export const FOR_READING = 0x1

export interface Machine {
  device: GPUDevice
  /** Maker and model, as the driver gives them. */
  name: string
  /** Why the device is gone; null while it is there. */
  lost(): string | null
}

export type Opened = { ok: true; machine: Machine } | { ok: false; why: string }

export async function openDevice(gpu: GPU | undefined): Promise<Opened> {
  if (!gpu) return { ok: false, why: 'this program runs where there is no WebGPU' }
  try {
    const adapter = await gpu.requestAdapter({ powerPreference: 'high-performance' })
    if (!adapter) return { ok: false, why: 'no graphics device offers itself for computing' }
    const device = await adapter.requestDevice({ label: 'lamp tracer' })
    const { vendor, architecture, device: model, description } = adapter.info
    const name = [description || model, vendor, architecture].filter(Boolean).join(', ') || 'unnamed device'
    let gone: string | null = null
    device.lost.then(({ message, reason }) => {
      gone =
        reason === 'destroyed' ? 'the device was given back' : `the device was lost (${message || 'no reason given'})`
    })
    return { ok: true, machine: { device, name, lost: () => gone } }
  } catch (error) {
    return { ok: false, why: `the graphics device could not be opened (${wordsOf(error)})` }
  }
}

export const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))
