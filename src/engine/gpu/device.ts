// A device to compute on, or the reason why there is none, in words.

/** Uses of a buffer and ways of mapping it, by the standard (W3C WebGPU, GPUBufferUsage and GPUMapMode). */
export const MAP_READ = 0x1
export const COPY_SRC = 0x4
export const COPY_DST = 0x8
export const UNIFORM = 0x40
export const STORAGE = 0x80
export const QUERY_RESOLVE = 0x200
export const FOR_READING = 0x1

/** The device's own clock; not every one has it, and browsers may round it. */
export const CLOCK: GPUFeatureName = 'timestamp-query'

export interface Machine {
  device: GPUDevice
  /** Maker and model, as the driver gives them. */
  name: string
  /** Computed by the processor: right, but slower than the processor by itself. */
  software: boolean
  /** Why the device is gone; null while it is there. */
  lost(): string | null
  /** From now on this device is not used; the first reason stays. */
  giveUp(why: string): void
  /** The device failed us and would again: opening it once more helps nobody. */
  gaveUp(): boolean
}

export type Opened = { ok: true; machine: Machine } | { ok: false; why: string }

const SOFTWARE = /swiftshader|llvmpipe|lavapipe|software|basic render/i

export async function openDevice(gpu: GPU | undefined): Promise<Opened> {
  if (!gpu) return { ok: false, why: 'there is no way to a graphics device here (WebGPU)' }
  try {
    const adapter = await gpu.requestAdapter({ powerPreference: 'high-performance' })
    if (!adapter) return { ok: false, why: 'no graphics device offers itself for computing' }
    const requiredFeatures = [CLOCK].filter((feature) => adapter.features.has(feature))
    const requiredLimits = wideGroups(adapter)
    const device = await adapter.requestDevice({ label: 'lamp tracer', requiredFeatures, requiredLimits })
    return { ok: true, machine: machineOf(device, adapter.info) }
  } catch (error) {
    return { ok: false, why: `the graphics device could not be opened (${messageOf(error)})` }
  }
}

/** Workgroups of 1,024 lanes where they were measured to be faster; elsewhere the standard's 256. */
function wideGroups({ info, limits }: GPUAdapter): Record<string, number> {
  const most = 1024
  const can = Math.min(limits.maxComputeInvocationsPerWorkgroup, limits.maxComputeWorkgroupSizeX) >= most
  return can && info.vendor === 'nvidia'
    ? { maxComputeInvocationsPerWorkgroup: most, maxComputeWorkgroupSizeX: most }
    : {}
}

export function machineOf(device: GPUDevice, info: GPUAdapterInfo): Machine {
  const { vendor, architecture, device: model, description } = info
  const name = [description || model, vendor, architecture].filter(Boolean).join(', ') || 'unnamed device'
  let gone: string | null = null
  let gaveUp = false
  const distrust = (why: string, destroy: () => void) => {
    if (gone !== null) return
    gone = why
    gaveUp = true
    destroy() // its memory is of use to others
  }
  const giveUp = (why: string) => distrust(why, () => device.destroy())
  device.lost.then(({ message, reason }) => {
    // The message of a device that was given back says only that, and differs from driver to driver.
    const why = reason === 'destroyed' ? 'it was given back' : firstLine(message) || 'no reason given'
    gone ??= `the graphics device was lost (${why})`
  })
  device.addEventListener('uncapturederror', ({ error }) => {
    // Not at once: where the device calls us from within, destroying it there can wait for itself for ever.
    distrust(`the graphics device reported a fault (${firstLine(error.message)})`, () => {
      setTimeout(() => device.destroy(), 0)
    })
  })
  return {
    device,
    name,
    software: info.isFallbackAdapter || SOFTWARE.test(name),
    lost: () => gone,
    giveUp,
    gaveUp: () => gaveUp,
  }
}

export const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))

/** Drivers' messages run on for pages. */
const firstLine = (text: string): string => (text.split('\n', 1)[0] ?? '').trim().slice(0, 160)
