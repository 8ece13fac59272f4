// What is seen along one line of sight, in cd/m²: the twin of night.frag.glsl without its procedural grass, waves and joints.
import { type Air, airLight } from './air.ts'
import { LUMINANCE, luminanceOfRgb } from './colour.ts'
import { distanceToFigure, type Figure, hitFigure, normalOn, PAINTS } from './figures.ts'
import { intensityTowards, meanOnTarget, type NightLight } from './light.ts'
import { lampFromPlace, type Place, type TargetKind, type Triple } from './scene.ts'

const flat = (rho: number): Triple => [rho, rho, rho]

/** Assumed diffuse reflectances: the document doesn't state the target's material. Grass and ice-free water from memory. */
export const REFLECTANCE = {
  wall: flat(0.5),
  /** Beaten earth. */
  earth: [0.212, 0.199, 0.182] as Triple,
  grass: [0.075, 0.122, 0.036] as Triple,
  /** Coastal water returns 2 to 4 % of the light that enters it. */
  water: [0.02, 0.031, 0.03] as Triple,
  line: flat(0.6),
} as const

const groundOf = (kind: TargetKind): 'earth' | 'grass' | 'water' =>
  kind === 'boat' ? 'water' : kind === 'field' ? 'grass' : 'earth'

/** Share of upright parts (blades, stones), which catch light at grazing incidence: our simple model of rough ground. */
export const UPRIGHT = { earth: 0.12, grass: 0.4 } as const

/** Replaces the cosine of incidence on rough ground: its flat part and its upright part. */
export const roughCosine = (cos: number, upright: number) =>
  cos + upright * Math.sqrt(Math.max(0, 1 - cos * cos)) * (1 - cos)

export interface Seen {
  on: 'wall' | 'earth' | 'grass' | 'water' | 'figure'
  at: Triple
  tM: number
  /** Illuminance of the surface, dimmed by the haze between lamp and surface. */
  lx: number
  /** Luminance of the surface, dimmed by the haze between surface and eye. */
  cdM2: number
}

export interface ViewedScene {
  place: Place
  figure: Figure | null
  light: NightLight
  air: Air
}

/** Null: the sky. */
export function seenAlong(s: ViewedScene, eye: Triple, direction: Triple): Seen | null {
  const { place, figure } = s
  const down = direction[1] < 0 ? (-place.lampM - eye[1]) / direction[1] : Number.POSITIVE_INFINITY
  const through =
    place.kind === 'wall' && direction[2] > 0 ? (place.distanceM - eye[2]) / direction[2] : Number.POSITIVE_INFINITY
  const surface = Math.min(down, through)
  const onFigure = figure && hitFigure(figure, eye, direction, surface)
  const t = onFigure ?? surface
  if (!Number.isFinite(t)) return null
  const at: Triple = [eye[0] + t * direction[0], eye[1] + t * direction[1], eye[2] + t * direction[2]]
  if (figure && onFigure !== null) return lit(s, 'figure', at, normalOn(figure, at), t)
  return down < through ? lit(s, groundOf(place.kind), at, [0, 1, 0], t) : lit(s, 'wall', at, [0, 0, -1], t)
}

function lit(s: ViewedScene, on: Seen['on'], at: Triple, normal: Triple, tM: number): Seen {
  const { place, figure, light, air } = s
  const d = Math.hypot(...at)
  const cos = Math.max(0, -(at[0] * normal[0] + at[1] * normal[1] + at[2] * normal[2]) / d)
  const shadowed = figure !== null && shadowOf(figure, at, normal)
  const perCos = shadowed
    ? 0
    : (intensityTowards(light, ...lampFromPlace(place, at)) / (d * d)) * Math.exp(-air.perM * d)
  const paint = on === 'figure' ? PAINTS[distanceToFigure(figure!, at).limb.paint] : REFLECTANCE[on]
  const seenCos = on === 'grass' || on === 'earth' ? roughCosine(cos, UPRIGHT[on]) : cos
  const cdM2 = ((luminanceOfRgb(paint) * perCos * seenCos) / Math.PI) * Math.exp(-air.perM * tM)
  return { on, at, tM, lx: perCos * cos, cdM2 }
}

/** True where the figure hides the lamp. */
export function shadowOf(figure: Figure, at: Triple, normal: Triple): boolean {
  const off: Triple = [at[0] + 0.01 * normal[0], at[1] + 0.01 * normal[1], at[2] + 0.01 * normal[2]]
  const d = Math.hypot(...off)
  return hitFigure(figure, off, [-off[0] / d, -off[1] / d, -off[2] / d], d) !== null
}

/** Luminance of the air before what is seen, cd/m². */
export const airAlong = (s: ViewedScene, eye: Triple, direction: Triple, seen: Seen | null): number =>
  airLight(s.light, s.place, s.air, eye, direction, seen?.tM ?? 1e6)

export const reflectanceOf = (rgb: Triple) => rgb[0] * LUMINANCE[0] + rgb[1] * LUMINANCE[1] + rgb[2] * LUMINANCE[2]

/**
 * Mean of the brightest tenth of a picture, cd/m²: the adaptation of an eye that sees the beam from the side. Samples lie on an even
 * grid of view directions.
 */
export function brightestOf(s: ViewedScene, eye: Triple, directions: readonly Triple[]): number {
  const all = directions.map((direction) => {
    const seen = seenAlong(s, eye, direction)
    return (seen?.cdM2 ?? 0) + airLight(s.light, s.place, s.air, eye, direction, seen?.tM ?? 1e6, 16)
  })
  const top = all.sort((a, b) => b - a).slice(0, Math.ceil(all.length / 10))
  return top.reduce((sum, x) => sum + x, 0) / Math.max(1, top.length)
}

/** Mean reflectance of clothes and hulls, for exposure. */
const FIGURE_MEAN = 0.25
/** Side of the metered square about a figure, m. */
const FIGURE_SQUARE_M = 2

/** Mean luminance of the target without the haze towards the eye, cd/m²: sets the eye's adaptation and the camera's exposure. */
export function targetLuminance({ place, light, air }: Omit<ViewedScene, 'figure'>): number {
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

/** Mean illuminance over the field of surfaces normal to the light, lx. */
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
