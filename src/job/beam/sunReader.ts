// Directions of the sun: recorded by the pool, read here or by a thread of their own (sunThread.ts).
import { type RecordedRays, recordRays } from '../../engine/segments.ts'
import type { Pool } from '../../engine/workers/pool.ts'
import type { AirOptions, DiscValue, OnLeftOut } from '../../hazard/air/search.ts'
import { AIR_ZONES, type AirZone } from '../../hazard/air/zones.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { Cancelled, type Scheduler, WorkerEnded } from '../../num/scheduler.ts'
import type { TallyShape } from '../../run/types.ts'
import { compileSun } from '../../scene/compile.ts'
import type { Scene } from '../../scene/scene.ts'
import { type Ball, type Direction, type Seen, strengthIn } from './sunDirections.ts'
import { readSunDirection, type SunRead, type SunReadRequest, sunTransferList } from './sunReading.ts'
import type { SunClient } from './sunThread.ts'

/** The lamp under the sun, its own scene, and any of its shapes. */
export interface SunScene {
  lamp: Lamp
  scene: Scene
  shape: TallyShape
  /** The lamp as the sun's light meets it, where that isn't all of it: `scene` is then of this one. */
  open?: Lamp
}

export interface SunReaderOptions {
  seed: number
  /** Rays of sunlight for each direction. */
  rays: number
  /** Inside the lamp only: light is not followed beyond it, and only that zone is read. */
  insideOnly: boolean
  onLeftOut?: OnLeftOut | undefined
  /** The thread that reads, once it runs; none: this one. */
  thread?: SunClient | undefined
}

interface Read extends Seen {
  byDisc: DiscValue[]
}

interface ReadOptions extends Pick<AirOptions, 'searchSegments' | 'most'> {
  /** Only there; by default in the whole region. */
  near?: Ball | undefined
  /** Only these; by default all. */
  zones?: readonly AirZone[]
  /** An earlier reading of the same direction that this one replaces; places in zones that are not read now are kept. */
  before?: Seen | undefined
  /** Smaller discs are read at the hottest place of this zone. */
  byDiscIn?: AirZone
}

/** A direction whose rays are recorded, or on their way. */
export interface RecordedSun extends Direction {
  times: number
  rays: Promise<RecordedRays>
}

export interface SunReader {
  /** All that were read so far. */
  seen: Seen[]
  /** Rays are ordered at once: several directions may be on their way. */
  record(at: Direction, times: number): RecordedSun
  /** One at a time: what is no result follows from the directions read before. */
  read(recorded: RecordedSun, options: ReadOptions): Promise<Read>
}

/** Traces and reads directions of the sun. */
export function makeSunReader(
  pool: Pool,
  { lamp, scene, shape, open = lamp }: SunScene,
  { seed, rays, insideOnly, onLeftOut, thread }: SunReaderOptions,
  scheduler: Scheduler,
): SunReader {
  const bare = withoutMaps(shape)
  const seen: Seen[] = []

  const hottest = (zone: AirZone) => seen.reduce((most, one) => Math.max(most, strengthIn(zone, one)), 0)

  function record({ tiltDeg, azimuthDeg }: Direction, times: number): RecordedSun {
    const traced = recordRays(pool, compileSun(scene, open, tiltDeg, azimuthDeg), bare, { seed, rays: times * rays })
    traced.catch(() => {}) // awaited when it is read; a cancellation may come first
    return { tiltDeg, azimuthDeg, times, rays: traced }
  }

  /** A thread that ends takes what was recorded with it. */
  async function readRays(of: RecordedSun, options: Omit<SunReadRequest, 'recorded'>): Promise<SunRead> {
    const request = { ...options, recorded: await of.rays }
    if (scheduler.signal.aborted) throw new Cancelled()
    if (!thread?.alive()) return readSunDirection(request, scheduler)
    try {
      return await thread.call('read', request, { signal: scheduler.signal, transfer: sunTransferList(request) })
    } catch (error) {
      if (!(error instanceof WorkerEnded)) throw error
      await scheduler.checkpoint()
      return readRays(record(of, of.times), options)
    }
  }

  return {
    seen,
    record,
    async read(recorded, { zones = AIR_ZONES, before, ...more }) {
      const { tiltDeg, azimuthDeg } = recorded
      const read = insideOnly ? zones.filter((zone) => zone === 'inside') : zones
      const { places, spots, leftOut, byDisc } = await readRays(recorded, {
        ...{ lamp, tiltDeg, insideOnly, ...more, zones: read },
        elsewhere: before?.places.filter((p) => !read.includes(p.zone)) ?? [],
        hottest: { front: hottest('front'), inside: hottest('inside'), outside: hottest('outside') },
      })
      for (const found of leftOut) onLeftOut?.(...found)
      const one = { tiltDeg, azimuthDeg, places, spots }
      if (before) seen.splice(seen.indexOf(before), 1)
      seen.push(one)
      return { ...one, byDisc }
    },
  }
}

/** The sun is read on face and wall and in the air. */
const withoutMaps = ({ elements: _, ...shape }: TallyShape): TallyShape => ({
  ...shape,
  ...{ windowN: 1, sphereGamma: 1, sphereC: 1, lens: null },
  target: { ...shape.target, n: 1 },
})
