// An own small Monte Carlo tracer, written from physics.md alone: emitters or the sun, face, mirror tunnel, lens. It shares no code with
// the program; of src it imports types and the index and absorption of lens materials. It gives every straight piece of every ray in air.
import type { Lamp } from '../../src/lamp/schema.ts'
import { placeLens } from './lenses.ts'
import { type Light, makeSource } from './light.ts'
import type { Random } from './random.ts'
import { moveBy, type Ray, turnTo } from './ray.ts'
import type { Fate, Split } from './split.ts'
import { placeWalls } from './tunnel.ts'

export interface Sink {
  /** A straight piece in air: from (x, y, z) along the unit vector d for so many mm, with its watts. */
  piece(x: number, y: number, z: number, dx: number, dy: number, dz: number, lengthMm: number, watts: number): void
  ends?(fate: Fate, watts: number): void
}

export interface Tracer {
  /** Watts of each part of the source: an emitter, or the sun. */
  watts: Float64Array
  /** One ray of a part for five numbers in [0, 1) (place, direction, wavelength), carrying `watts`. */
  trace(part: number, u: ArrayLike<number>, watts: number, random: Random, sink: Sink): void
}

/** How far light goes that leaves where it shouldn't, and what leaves by the front, mm. */
const STRAY_MM = 3000
const BEAM_MM = 1e6
/** Shares of the watts a ray set out with: under these a surface draws one of its two parts, and the roulette begins. */
const SPLIT_FLOOR = 1e-2
const ROULETTE_FLOOR = 2e-3
const MOST_STEPS = 2000

type Zone = 'below' | 'tunnel' | 'above' | 'lens'
interface State {
  ray: Ray
  zone: Zone
}

export function makeTracer(lamp: Lamp, light: Light): Tracer {
  const lens = lamp.lens && placeLens(lamp.lens)
  const walls = lamp.tunnel && placeWalls(lamp.tunnel)
  const source = makeSource(lamp, light, lens?.backMm ?? 0)
  const onFace = insideFace(lamp.face)

  function start(ray: Ray): Zone | Fate {
    if (light.light === 'sun') return 'lens'
    if (!walls || ray.z < walls.zInMm) return 'below'
    if (ray.z >= walls.zOutMm) return 'above'
    return walls.inside(ray.x, ray.y, ray.z) ? 'tunnel' : 'blocked'
  }

  return {
    watts: source.watts,
    trace(part, u, watts, random, sink) {
      const ray: Ray = { x: 0, y: 0, z: 0, dx: 0, dy: 0, dz: 1, watts, nm: 555 }
      source.start(part, u, ray)
      const split: Split = { random, floorWatts: SPLIT_FLOOR * watts }
      const stack: State[] = []
      const step = makeStep({ lamp, lens, walls, onFace, split, sink, stack })
      const first = start(ray)
      if (first === 'below' || first === 'tunnel' || first === 'above' || first === 'lens')
        stack.push({ ray, zone: first })
      else sink.ends?.(first, watts)
      let steps = 0
      for (let at = stack.pop(); at; at = stack.pop()) {
        if (++steps > MOST_STEPS) sink.ends?.('limit', at.ray.watts)
        else if (survives(at.ray, ROULETTE_FLOOR * watts, random, sink)) step(at)
      }
    },
  }
}

function survives(ray: Ray, floorWatts: number, random: Random, sink: Sink): boolean {
  if (ray.watts >= floorWatts) return ray.watts > 0
  const lives = random() < 0.5
  sink.ends?.('roulette', lives ? -ray.watts : ray.watts)
  ray.watts *= 2
  return lives
}

interface Inner {
  lamp: Lamp
  lens: ReturnType<typeof placeLens> | null
  walls: ReturnType<typeof placeWalls> | null
  onFace: (x: number, y: number) => boolean
  split: Split
  sink: Sink
  stack: State[]
}

/** One stretch of a ray in its zone; what goes on is put on the stack. */
function makeStep({ lamp, lens, walls, onFace, split, sink, stack }: Inner): (at: State) => void {
  const goes = (ray: Ray, s: number): void => {
    sink.piece(ray.x, ray.y, ray.z, ray.dx, ray.dy, ray.dz, s, ray.watts)
    moveBy(ray, s)
  }
  const ends = (fate: Fate, ray: Ray) => sink.ends?.(fate, ray.watts)
  const leavesLamp = (ray: Ray) => {
    goes(ray, BEAM_MM)
    ends('delivered', ray)
  }

  /** Straight on, until the tunnel's outer side or the face stops it. */
  function strays(ray: Ray, fate: Fate): void {
    const wallAt = walls ? walls.meetOutside(ray, STRAY_MM) : Number.POSITIVE_INFINITY
    const toFace = ray.dz !== 0 && ray.z !== 0 ? -ray.z / ray.dz : -1
    const faceAt = toFace > 0 && onFace(ray.x + toFace * ray.dx, ray.y + toFace * ray.dy) ? toFace : STRAY_MM
    goes(ray, Math.min(wallAt, faceAt, STRAY_MM))
    ends(fate, ray)
  }

  function toLens(ray: Ray) {
    if (!lens) return leavesLamp(ray)
    const s = (lens.frontMm - ray.z) / ray.dz
    const [x, y] = [ray.x + s * ray.dx, ray.y + s * ray.dy]
    if (Math.hypot(x, y) > lens.radiusMm) return strays(ray, 'outsideLens')
    goes(ray, s)
    ray.z = lens.frontMm
    stack.push({ ray, zone: 'lens' })
  }

  function below(ray: Ray) {
    if (ray.dz < 0) {
      const s = -ray.z / ray.dz
      if (!onFace(ray.x + s * ray.dx, ray.y + s * ray.dy)) return strays(ray, 'behindFace')
      goes(ray, s)
      ray.z = 0
      return leaveFace(ray)
    }
    if (!walls) return ray.dz > 0 ? toLens(ray) : strays(ray, 'leakedFaceGap')
    const s = (walls.zInMm - ray.z) / ray.dz
    if (!(ray.dz > 0) || !walls.inside(ray.x + s * ray.dx, ray.y + s * ray.dy, walls.zInMm))
      return strays(ray, 'leakedFaceGap')
    goes(ray, s)
    ray.z = walls.zInMm
    stack.push({ ray, zone: 'tunnel' })
  }

  function leaveFace(ray: Ray) {
    sink.ends?.('face', ray.watts * (1 - lamp.face.reflectance))
    ray.watts *= lamp.face.reflectance
    if (ray.watts === 0) return
    const [u, turn] = [split.random(), 2 * Math.PI * split.random()]
    const sin = Math.sqrt(u)
    turnTo(ray, [sin * Math.cos(turn), sin * Math.sin(turn), Math.sqrt(1 - u)])
    stack.push({ ray, zone: 'below' })
  }

  function inTunnel(ray: Ray, t: NonNullable<Inner['walls']>) {
    const zEnd = ray.dz > 0 ? t.zOutMm : t.zInMm
    const s = ray.dz === 0 ? Number.NaN : (zEnd - ray.z) / ray.dz
    if (s >= 0 && t.inside(ray.x + s * ray.dx, ray.y + s * ray.dy, zEnd)) {
      goes(ray, s)
      ray.z = zEnd
      stack.push({ ray, zone: ray.dz > 0 ? 'above' : 'below' })
      return
    }
    const hit = t.meet(ray)
    if (!hit) return ends('limit', ray)
    goes(ray, hit.s)
    sink.ends?.('wall', ray.watts * (1 - t.reflectance))
    ray.watts *= t.reflectance
    if (ray.watts === 0) return
    const [nx, ny, nz] = hit.normal
    const along = 2 * (ray.dx * nx + ray.dy * ny + ray.dz * nz)
    turnTo(ray, [ray.dx - along * nx, ray.dy - along * ny, ray.dz - along * nz])
    stack.push({ ray, zone: 'tunnel' })
  }

  function above(ray: Ray) {
    if (ray.dz > 0) return toLens(ray)
    if (!walls) return below(ray)
    const s = (walls.zOutMm - ray.z) / ray.dz
    if (!walls.inside(ray.x + s * ray.dx, ray.y + s * ray.dy, walls.zOutMm)) return strays(ray, 'leakedLensGap')
    goes(ray, s)
    ray.z = walls.zOutMm
    stack.push({ ray, zone: 'tunnel' })
  }

  return ({ ray, zone }) => {
    if (zone === 'tunnel' && walls) return inTunnel(ray, walls)
    if (zone === 'above') return above(ray)
    if (zone === 'below') return below(ray)
    lens?.pass(ray, split, {
      ends: (fate, watts) => sink.ends?.(fate, watts),
      leaves(r, up) {
        if (up) leavesLamp(r)
        else stack.push({ ray: r, zone: 'above' })
      },
    })
  }
}

function insideFace({ shape, sizeMm }: Lamp['face']): (x: number, y: number) => boolean {
  const half = sizeMm / 2
  if (shape === 'round') return (x, y) => Math.hypot(x, y) <= half
  const turns = shape === 'square' ? [0, 90] : [0, 60, 120]
  return (x, y) =>
    turns.every((deg) => {
      const a = (deg * Math.PI) / 180
      return Math.abs(x * Math.cos(a) + y * Math.sin(a)) <= half
    })
}
