// Where rays set out: the lamp's own emitters, or the sun on the lens. physics.md, sections 3 and 7.
import type { Lamp, OpticType, Profile } from '../../src/lamp/schema.ts'
import type { Ray } from './ray.ts'

export type Light = { light: 'lamp' } | { light: 'sun'; tiltDeg: number; azimuthDeg: number }

export interface Source {
  /** Watts of each part: an emitter, or the sun. */
  watts: Float64Array
  /** The ray of a part for four numbers in [0, 1): two for the place, two for the direction. The fifth is for the wavelength. */
  start(part: number, u: ArrayLike<number>, ray: Ray): void
}

const RAD = Math.PI / 180
export const SUN_HALF_RAD = 0.2666 * RAD
/** Lumens of a watt at 555 nm: K_m of check-values.md 1.2, V = 1. */
const LM_PER_W = 683.002

/** Where the light's centre comes from for a tilted sun: the sun stands at azimuth `azimuthDeg`, the light goes the other way. */
export function sunwards(tiltDeg: number, azimuthDeg: number): [number, number, number] {
  const [t, a] = [tiltDeg * RAD, azimuthDeg * RAD]
  return [Math.sin(t) * Math.cos(a), Math.sin(t) * Math.sin(a), Math.cos(t)]
}

type Polar = (u: number) => number

/** θ by the profile: I ∝ cosᵐθ, or exp(−4 ln2 (θ/FWHM)²), as watts over solid angle. */
function polarOf(profile: Profile): Polar {
  if (profile.kind === 'cosine') {
    const m = Math.log(0.5) / Math.log(Math.cos((profile.fwhmDeg / 2) * RAD))
    return (u) => Math.acos((1 - u) ** (1 / (m + 1)))
  }
  if (profile.kind !== 'gaussian') throw new Error(`planted: no profile "${profile.kind}" here`)
  const width = profile.fwhmDeg * RAD
  return invert((t) => Math.exp(-4 * Math.LN2 * (t / width) ** 2) * Math.sin(t), 0, Math.min(Math.PI / 2, 2.4 * width))
}

/** Inverse of the distribution with a density, by the trapezoid rule on 8,192 steps. */
function invert(density: (x: number) => number, from: number, to: number): Polar {
  const n = 8192
  const below = new Float64Array(n + 1)
  const at = (i: number) => from + ((to - from) * i) / n
  for (let i = 1; i <= n; i++) below[i] = below[i - 1]! + 0.5 * (density(at(i - 1)) + density(at(i)))
  return (u) => {
    const wanted = u * below[n]!
    let [low, high] = [0, n]
    while (high - low > 1) {
      const mid = (low + high) >> 1
      if (below[mid]! <= wanted) low = mid
      else high = mid
    }
    return at(low + (wanted - below[low]!) / Math.max(1e-300, below[high]! - below[low]!))
  }
}

/** Planck's law at the sun's nominal 5772 K (IAU 2015); all the sun's power lies in 380 to 780 nm, as the program takes it. */
const planck = (nm: number) => 1 / (nm ** 5 * Math.expm1(1.438776877e7 / (nm * 5772)))
const sunNm = invert(planck, 380, 780)

/** `topMm`: outermost plane of the lens, where the sun's rays set out. */
export const makeSource = (lamp: Lamp, light: Light, topMm: number): Source =>
  light.light === 'lamp' ? emittersOf(lamp) : sunOf(lamp, light.tiltDeg, light.azimuthDeg, topMm)

interface Emitter {
  x: number
  y: number
  z: number
  cos: number
  sin: number
  /** Half sides of the rectangle, or the radius twice. */
  half: [number, number]
  round: boolean
  polar: Polar
  watts: number
}

function emittersOf(lamp: Lamp): Source {
  const emitters = lamp.boards.flatMap((board) => {
    const type = lamp.boardTypes.find((t) => t.id === board.type)
    const emitter = lamp.emitterTypes.find((e) => e.id === type?.emitter)
    if (!type || !emitter) throw new Error('planted: a board without type or emitter')
    if (emitter.spectrum.kind !== 'mono' || emitter.spectrum.wavelengthNm !== 555 || emitter.fluxByCurrent.length > 0)
      throw new Error('planted: emitters are of 555 nm and in proportion to current')
    const emittedW = ((emitter.fluxLm / LM_PER_W) * board.currentA) / emitter.ratedCurrentA
    return type.sites.map((site, i): Emitter => {
      const optic = lamp.opticTypes.find((o) => o.id === (board.siteOptics?.[i] ?? board.optic ?? lamp.optic))
      if (!optic) throw new Error('planted: a board without optic')
      const [boardTurn, turn] = [board.turnDeg * RAD, (board.turnDeg + (site.turnDeg ?? 0)) * RAD]
      const [c, s] = [Math.cos(boardTurn), Math.sin(boardTurn)]
      const place = { x: board.xMm + c * site.xMm - s * site.yMm, y: board.yMm + s * site.xMm + c * site.yMm }
      return { ...place, cos: Math.cos(turn), sin: Math.sin(turn), ...surfaceOf(emitter, optic, emittedW) }
    })
  })
  return {
    watts: Float64Array.from(emitters, (e) => e.watts),
    start: (part, u, ray) => leave(emitters[part]!, u, ray),
  }
}

function surfaceOf(emitter: Lamp['emitterTypes'][number], optic: OpticType, emittedW: number) {
  if (optic.kind === 'reflector') throw new Error('planted: no reflector cups here')
  if (optic.kind === 'collimator') {
    const r = optic.exitDiameterMm / 2
    if (optic.shape === 'table') throw new Error('planted: no tables of collimators here')
    const polar = polarOf({ kind: optic.shape, fwhmDeg: optic.fwhmDeg })
    const half: [number, number] = [r, r]
    return { z: optic.heightMm, half, round: true, polar, watts: emittedW * optic.efficiency }
  }
  const { source } = emitter
  const round = source.shape === 'disc'
  const half: [number, number] = round
    ? [source.diameterMm / 2, source.diameterMm / 2]
    : [source.widthMm / 2, source.heightMm / 2]
  return { z: emitter.heightMm, half, round, polar: polarOf(emitter.profile), watts: emittedW }
}

function leave(e: Emitter, u: ArrayLike<number>, ray: Ray): void {
  const [a, b] = e.round ? onDisc(u[0]!, u[1]!, e.half[0]) : [(2 * u[0]! - 1) * e.half[0], (2 * u[1]! - 1) * e.half[1]]
  const theta = e.polar(u[2]!)
  const [p, q] = [Math.sin(theta) * Math.cos(2 * Math.PI * u[3]!), Math.sin(theta) * Math.sin(2 * Math.PI * u[3]!)]
  ray.x = e.x + e.cos * a - e.sin * b
  ray.y = e.y + e.sin * a + e.cos * b
  ray.z = e.z
  ray.dx = e.cos * p - e.sin * q
  ray.dy = e.sin * p + e.cos * q
  ray.dz = Math.cos(theta)
  ray.nm = 555
}

const onDisc = (u: number, v: number, radius: number): [number, number] => [
  radius * Math.sqrt(u) * Math.cos(2 * Math.PI * v),
  radius * Math.sqrt(u) * Math.sin(2 * Math.PI * v),
]

/** Direct irradiance × area of the aperture × cos tilt, even over the lens's outermost plane and over the sun's disc. */
function sunOf(lamp: Lamp, tiltDeg: number, azimuthDeg: number, topMm: number): Source {
  const { lens } = lamp
  if (!lens) throw new Error('planted: the sun needs a lens')
  const radius = lens.diameterMm / 2
  if (lens.kind === 'fresnel' && lens.aperture !== 'round') throw new Error('planted: lenses are round')
  const to = sunwards(tiltDeg, azimuthDeg)
  const a = azimuthDeg * RAD
  const e1 = [Math.cos(tiltDeg * RAD) * Math.cos(a), Math.cos(tiltDeg * RAD) * Math.sin(a), -Math.sin(tiltDeg * RAD)]
  const e2 = [-Math.sin(a), Math.cos(a), 0]
  const capacity = 1 - Math.cos(SUN_HALF_RAD)
  return {
    watts: Float64Array.of(lamp.reading.sunWm2 * Math.PI * radius * radius * 1e-6 * to[2]),
    start(_, u, ray) {
      const [x, y] = onDisc(u[0]!, u[1]!, radius)
      const cos = 1 - u[2]! * capacity
      const sin = Math.sqrt(1 - cos * cos)
      const [p, q] = [sin * Math.cos(2 * Math.PI * u[3]!), sin * Math.sin(2 * Math.PI * u[3]!)]
      ray.x = x
      ray.y = y
      ray.z = topMm
      ray.dx = -(cos * to[0] + p * e1[0]! + q * e2[0]!)
      ray.dy = -(cos * to[1] + p * e1[1]! + q * e2[1]!)
      ray.dz = -(cos * to[2] + p * e1[2]! + q * e2[2]!)
      ray.nm = sunNm(u[4]!)
    },
  }
}
