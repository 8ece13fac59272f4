// Path polylines for a fake sheet: straight lines, mirror bounces and a thin lens; right in shape, not in numbers.
import type { Paths } from '../../src/job/beam/sheet.ts'
import type { EmitterPlace } from '../../src/lamp/place.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { FATES, type Fate } from '../../src/run/types.ts'

type Vec = [number, number, number]
interface Walk {
  points: Vec[]
  fate: Fate
}

function stream(seed: number): () => number {
  let s = seed
  return () => {
    s = (s + 0x6d2b79f5) | 0
    let t = Math.imul(s ^ (s >>> 15), 1 | s)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

const along = (p: Vec, d: Vec, t: number): Vec => [p[0] + t * d[0], p[1] + t * d[1], p[2] + t * d[2]]

/** Distance along the ray to the tunnel's wall, taken as round; null when it passes the outlet first. */
function wallAhead(tunnel: NonNullable<Lamp['tunnel']>, p: Vec, d: Vec): number | null {
  const radius = (z: number) =>
    (tunnel.inMm + ((tunnel.outMm - tunnel.inMm) * (z - tunnel.zInMm)) / (tunnel.zOutMm - tunnel.zInMm)) / 2
  const out = (t: number) => {
    const q = along(p, d, t)
    return Math.hypot(q[0], q[1]) - radius(q[2])
  }
  const tEnd = (tunnel.zOutMm - p[2]) / d[2]
  const tStart = Math.max(1e-3, (tunnel.zInMm - p[2]) / d[2])
  if (!(tEnd > tStart) || out(tEnd) < 0) return null
  let lo = tStart
  let hi = tEnd
  for (let i = 0; i < 40; i++) {
    const mid = (lo + hi) / 2
    if (out(mid) < 0) lo = mid
    else hi = mid
  }
  return lo
}

function walk(lamp: Lamp, from: Vec, aim: Vec, random: () => number): Walk {
  const points: Vec[] = [from]
  let p = from
  let d = aim
  const { tunnel, lens } = lamp
  for (let bounce = 0; tunnel && bounce < 8; bounce++) {
    const t = wallAhead(tunnel, p, d)
    if (t === null) break
    p = along(p, d, t)
    points.push(p)
    if (random() > tunnel.reflectance) return { points, fate: 'wall' }
    const r = Math.hypot(p[0], p[1])
    const flare = (tunnel.outMm - tunnel.inMm) / 2 / (tunnel.zOutMm - tunnel.zInMm)
    const k = Math.hypot(1, flare)
    const n: Vec = [-p[0] / r / k, -p[1] / r / k, flare / k]
    const dn = d[0] * n[0] + d[1] * n[1] + d[2] * n[2]
    d = [d[0] - 2 * dn * n[0], d[1] - 2 * dn * n[1], d[2] - 2 * dn * n[2]]
    p = along(p, n, 0.05)
  }
  if (!lens) {
    points.push(along(p, d, 500 / d[2]))
    return { points, fate: 'delivered' }
  }
  p = along(p, d, (lens.zMm - p[2]) / d[2])
  points.push(p)
  if (Math.hypot(p[0], p[1]) > lens.diameterMm / 2) return { points, fate: tunnel ? 'leakedLensGap' : 'outsideLens' }
  const draw = random()
  if (draw < 0.014) return { points, fate: 'lensAbsorbed' }
  if (draw < 0.08)
    return { points: [...points, backToFace(lamp, p, d)], fate: draw < 0.055 ? 'lensReturnedLost' : 'face' }
  const focal = 'focalMm' in lens ? lens.focalMm : lens.radiusMm * 2
  const riser = draw > 0.965
  const sx = d[0] / d[2] - p[0] / focal + (riser ? 0.3 * (random() - 0.5) : 0)
  const sy = d[1] / d[2] - p[1] / focal + (riser ? 0.3 * (random() - 0.5) : 0)
  const q: Vec = [p[0], p[1], p[2] + ('thicknessMm' in lens ? lens.thicknessMm : 0)]
  points.push(q, along(q, [sx, sy, 1], 900))
  return { points, fate: riser ? 'deliveredViaRiser' : 'delivered' }
}

function backToFace(lamp: Lamp, p: Vec, d: Vec): Vec {
  const q = along(p, [d[0], d[1], -d[2]], p[2] / d[2])
  const k = Math.min(1, (0.49 * lamp.face.sizeMm) / Math.hypot(q[0], q[1]))
  return [q[0] * k, q[1] * k, 0]
}

export function fakePaths(lamp: Lamp, emitters: readonly EmitterPlace[], count: number): Paths {
  const random = stream(7)
  const walks: Walk[] = []
  const emitter = new Uint32Array(emitters.length ? count : 0)
  for (let i = 0; i < emitter.length; i++) {
    const at = Math.floor(((i + 0.5) / count) * emitters.length)
    const e = emitters[at]!
    emitter[i] = at
    const fwhm = e.optic.kind === 'collimator' ? e.optic.fwhmDeg : 70
    const theta = ((fwhm / 2.355) * Math.sqrt(-2 * Math.log(1 - 0.98 * random())) * Math.PI) / 180
    const phi = 2 * Math.PI * random()
    const z = e.optic.kind === 'collimator' ? e.optic.heightMm : e.emitter.heightMm
    const s = Math.sin(Math.min(theta, 1.4))
    const aim: Vec = [s * Math.cos(phi), s * Math.sin(phi), Math.cos(Math.min(theta, 1.4))]
    const from: Vec = [e.xMm, e.yMm, z]
    walks.push(
      random() < 0.06
        ? { points: [[e.xMm, e.yMm, e.emitter.heightMm], from], fate: 'opticLoss' }
        : walk(lamp, from, aim, random),
    )
  }
  const start = new Uint32Array(walks.length + 1)
  for (const [i, w] of walks.entries()) start[i + 1] = start[i]! + w.points.length
  return {
    start,
    xyz: Float32Array.from(walks.flatMap((w) => w.points.flat())),
    fate: Uint8Array.from(walks, (w) => FATES.indexOf(w.fate)),
    emitter,
  }
}
