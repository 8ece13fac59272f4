// What is seen along one line of sight, in plain numbers: the twin of night.frag.glsl without its texture of grass, waves and joints.
import { type Air, airLight } from './air.ts'
import { LUMINANCE, luminanceOfRgb } from './colour.ts'
import { type Figure, hitFigure, normalOn, PAINTS, toFigure } from './figures.ts'
import { intensityTowards, meanOnTarget, type NightLight } from './light.ts'
import { lampFromPlace, type Place, type TargetKind, type Triple } from './scene.ts'

const flat = (rho: number): Triple => [rho, rho, rho]

/** Diffuse reflectances assumed: nothing in the document says what the target is made of. Grass and ice-free water from memory. */
export const REFLECTANCE = {
  wall: flat(0.5),
  /** Beaten earth. */
  earth: [0.212, 0.199, 0.182] as Triple,
  grass: [0.075, 0.122, 0.036] as Triple,
  /** What comes back out of coastal water, some 2 to 4 % of what goes in. */
  water: [0.02, 0.031, 0.03] as Triple,
  line: flat(0.6),
} as const

export const groundOf = (kind: TargetKind): 'earth' | 'grass' | 'water' =>
  kind === 'boat' ? 'water' : kind === 'field' ? 'grass' : 'earth'

/** Share of what stands upright (blades, stones) and catches light that comes in low: our own simple picture of rough ground. */
export const UPRIGHT = { earth: 0.12, grass: 0.4 } as const

/** What stands for the cosine of incidence on rough ground: the flat of it, and what faces light coming in low. */
export const roughCosine = (cos: number, upright: number) =>
  cos + upright * Math.sqrt(Math.max(0, 1 - cos * cos)) * (1 - cos)

export interface Seen {
  on: 'wall' | 'earth' | 'grass' | 'water' | 'figure'
  at: Triple
  tM: number
  /** On the surface itself, dimmed by the haze on the way. */
  lx: number
  /** Of the surface, dimmed on its way to the eye. */
  cdM2: number
}

export interface SightOf {
  place: Place
  figure: Figure | null
  light: NightLight
  air: Air
}

/** Null: the sky. */
export function seenAlong(s: SightOf, eye: Triple, sight: Triple): Seen | null {
  const { place, figure } = s
  const down = sight[1] < 0 ? (-place.lampM - eye[1]) / sight[1] : Number.POSITIVE_INFINITY
  const through =
    place.kind === 'wall' && sight[2] > 0 ? (place.distanceM - eye[2]) / sight[2] : Number.POSITIVE_INFINITY
  const surface = Math.min(down, through)
  const onFigure = figure && hitFigure(figure, eye, sight, surface)
  const t = onFigure ?? surface
  if (!Number.isFinite(t)) return null
  const at: Triple = [eye[0] + t * sight[0], eye[1] + t * sight[1], eye[2] + t * sight[2]]
  if (figure && onFigure !== null) return lit(s, 'figure', at, normalOn(figure, at), t)
  return down < through ? lit(s, groundOf(place.kind), at, [0, 1, 0], t) : lit(s, 'wall', at, [0, 0, -1], t)
}

function lit(s: SightOf, on: Seen['on'], at: Triple, normal: Triple, tM: number): Seen {
  const { place, figure, light, air } = s
  const d = Math.hypot(...at)
  const cos = Math.max(0, -(at[0] * normal[0] + at[1] * normal[1] + at[2] * normal[2]) / d)
  const shadowed = figure !== null && shadowOf(figure, at, normal)
  const perCos = shadowed
    ? 0
    : (intensityTowards(light, ...lampFromPlace(place, at)) / (d * d)) * Math.exp(-air.perM * d)
  const paint = on === 'figure' ? PAINTS[toFigure(figure!, at).limb.paint] : REFLECTANCE[on]
  const seenCos = on === 'grass' || on === 'earth' ? roughCosine(cos, UPRIGHT[on]) : cos
  const cdM2 = ((luminanceOfRgb(paint) * perCos * seenCos) / Math.PI) * Math.exp(-air.perM * tM)
  return { on, at, tM, lx: perCos * cos, cdM2 }
}

/** The lamp is hidden from there by the figure. */
export function shadowOf(figure: Figure, at: Triple, normal: Triple): boolean {
  const off: Triple = [at[0] + 0.01 * normal[0], at[1] + 0.01 * normal[1], at[2] + 0.01 * normal[2]]
  const d = Math.hypot(...off)
  return hitFigure(figure, off, [-off[0] / d, -off[1] / d, -off[2] / d], d) !== null
}

/** Luminance of the air before what is seen, cd/m². */
export const airAlong = (s: SightOf, eye: Triple, sight: Triple, seen: Seen | null): number =>
  airLight(s.light, s.place, s.air, eye, sight, seen?.tM ?? 1e6)

export const reflectanceOf = (rgb: Triple) => rgb[0] * LUMINANCE[0] + rgb[1] * LUMINANCE[1] + rgb[2] * LUMINANCE[2]

/**
 * The brightest tenth of a picture, cd/m²: what an eye settles on that looks at the beam from aside. Samples lie on an even grid of
 * sights.
 */
export function brightestOf(s: SightOf, eye: Triple, sights: readonly Triple[]): number {
  const all = sights.map((sight) => {
    const seen = seenAlong(s, eye, sight)
    return (seen?.cdM2 ?? 0) + airLight(s.light, s.place, s.air, eye, sight, seen?.tM ?? 1e6, 16)
  })
  const top = all.sort((a, b) => b - a).slice(0, Math.ceil(all.length / 10))
  return top.reduce((sum, x) => sum + x, 0) / Math.max(1, top.length)
}

/** Mean of a person's or a boat's clothes and hull, for exposure. */
const FIGURE_MEAN = 0.25
/** Side of the square about a figure that the eye rests on, m. */
const FIGURE_SQUARE_M = 2

/** Mean luminance of the target as seen from its own side of the haze, cd/m²: what the eye settles on, and a camera is set by. */
export function targetLuminance({ place, light, air }: Omit<SightOf, 'figure'>): number {
  const { kind, distanceM: d } = place
  const dimmed = Math.exp(-air.perM * d)
  if (kind === 'field') {
    const cos = place.lampM / d
    return (
      ((meanOnField(light, place) * reflectanceOf(REFLECTANCE.grass)) / Math.PI) *
      roughCosine(cos, UPRIGHT.grass) *
      dimmed
    )
  }
  const figure = kind === 'person' || kind === 'boat'
  const side = (m: number) => (figure ? Math.min(m, FIGURE_SQUARE_M) : m)
  const lx = meanOnTarget(light, d, side(place.widthM), side(place.heightM))
  return ((lx * (figure ? FIGURE_MEAN : REFLECTANCE.wall[0])) / Math.PI) * dimmed
}

/** Mean over the field of the lx on a surface square to the light. */
function meanOnField(light: NightLight, place: Place, n = 11): number {
  let sum = 0
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      const x = ((i + 0.5) / n - 0.5) * place.widthM
      const z = Math.max(0.05 * place.centre[2], place.centre[2] + ((j + 0.5) / n - 0.5) * place.heightM)
      const at: Triple = [x, -place.lampM, z]
      sum += intensityTowards(light, ...lampFromPlace(place, at)) / (x * x + place.lampM ** 2 + z * z)
    }
  }
  return sum / (n * n)
}
