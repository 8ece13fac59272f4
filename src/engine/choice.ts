// Which engine may trace, and why: a graphics device where there is one that gains something, else the processor. Whether the device is
// right is checked later, for each make of lamp (gpu/selfCheck.ts).
import type { TallyShape } from '../run/types.ts'
import type { Scene } from '../scene/scene.ts'
import type { Machine, Opened } from './gpu/device.ts'
import type { GpuTracer } from './gpu/types.ts'

/** auto: a graphics device unless the processor itself computes it; gpu: any graphics device; cpu: none. */
export const ENGINE_CHOICES = ['auto', 'gpu', 'cpu'] as const
export type EngineChoice = (typeof ENGINE_CHOICES)[number]

export const ASKED_FOR = 'it was asked for'

export interface Graphics {
  /** The device as soon as it is known whether there is one. Never rejects. */
  ready: Promise<Machine | null>
  /** The device that may trace now. */
  machine(): Machine | null
  /** While there is none: why not, in words. */
  why(): string
  /** A new trace begins. A device that was lost may be opened once more. */
  renew(): void
  /** The processor has traced so many rays a millisecond; and is the device worth its rounds, at so many (null: not yet known)? */
  measurePool(raysPerMs: number): void
  worth(raysPerMs: number | null): boolean
  /** So many rays are sent to the device now. */
  countRays(rays: number): void
  /** A tracer in place of the device's: benchmarks use one that answers at once. */
  stub?(scene: Scene, shape: TallyShape): GpuTracer
}

export interface GraphicsOptions {
  /** A drill, for tests and for the curious: the device goes, as if lost, when it has traced so many rays. */
  loseAfter?: number | undefined
}

export function openGraphics(
  choice: EngineChoice,
  open: () => Promise<Opened>,
  { loseAfter = Number.POSITIVE_INFINITY }: GraphicsOptions = {},
): Graphics {
  let machine: Machine | null = null
  let why = ''
  let sent = 0
  let openings = 0
  let pool = 0

  async function begin(): Promise<Machine | null> {
    openings++
    why = 'the graphics device is still being opened'
    const opened = await open().catch((error: unknown): Opened => ({ ok: false, why: String(error) }))
    if (!opened.ok) why = opened.why
    else if (choice === 'auto' && opened.machine.software) {
      why = `the graphics device here is computed by the processor (${opened.machine.name}), which is faster by itself`
      opened.machine.device.destroy()
    } else machine = opened.machine
    return machine
  }

  const graphics: Graphics = {
    ready: choice === 'cpu' ? Promise.resolve(null) : begin(),
    machine: () => (machine?.lost() ? null : machine),
    why: () => (choice === 'cpu' ? ASKED_FOR : (machine?.lost() ?? why)),
    /**
     * Once more, not more often: a device is lost once when the computer sleeps or its driver is renewed. One that goes again is brought down
     * by its driver or by us, and each time the whole screen may stand still for seconds. Never in the middle of a run, which would change
     * engines twice, and never a device that gave wrong or no answers.
     */
    renew() {
      if (!machine?.lost() || machine.gaveUp() || openings > 1) return
      machine = null
      graphics.ready = begin()
    },
    measurePool(raysPerMs) {
      pool = Math.max(pool, raysPerMs)
    },
    // Many cores outrun a small device.
    worth: (raysPerMs) => choice === 'gpu' || raysPerMs === null || raysPerMs >= pool,
    countRays(rays) {
      sent += rays
      if (sent < loseAfter) return
      loseAfter = Number.POSITIVE_INFINITY
      setTimeout(() => machine?.device.destroy(), 0) // once they are on their way
    },
  }
  return graphics
}

/** A device that is there already, whatever it is. */
export const graphicsOf = (machine: Machine): Graphics =>
  openGraphics('gpu', () => Promise.resolve({ ok: true, machine }))
