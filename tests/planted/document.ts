// A lamp document of few parts, for the planted sets. Everything that would dim or brighten the light with heat or current is left out.
import type {
  EmitterType,
  FresnelLens,
  Lamp,
  Lens,
  OpticType,
  Profile,
  SolidLens,
  Tunnel,
} from '../../src/lamp/schema.ts'
import type { Dice } from './random.ts'

export interface Spot {
  xMm: number
  yMm: number
  turnDeg?: number
  /** Of the rated current; the light is in proportion. */
  share?: number
  /** Index into the kinds; absent: the first. */
  kind?: number
}

export interface EmitterKind {
  source: EmitterType['source']
  profile: Profile
  watts: number
  heightMm: number
  collimator?: { exitDiameterMm: number; heightMm: number; fwhmDeg: number; shape: 'cosine' | 'gaussian' }
}

export interface Parts {
  name: string
  kinds: EmitterKind[]
  spots: Spot[]
  lens: Lens | null
  tunnel?: Tunnel | null
  faceSizeMm: number
  faceShape?: Lamp['face']['shape']
  faceReflectance?: number
}

const LM_PER_W = 683.002
const BARE: OpticType = { kind: 'bare', id: 'bare', name: 'Bare' }

/** What the schema allows one emitter, W at 555 nm. */
export const MOST_WATTS = 100_000 / LM_PER_W

export function lampOf(parts: Parts): Lamp {
  return {
    format: 'lamp',
    version: 3,
    name: parts.name,
    note: 'Drawn at random for a planted place; no such lamp was built.',
    target: { name: 'Target', distanceM: 10, widthM: 1, heightM: 1, coneHalfDeg: 2 },
    emitterTypes: parts.kinds.map(emitterType),
    opticTypes: [BARE, ...parts.kinds.flatMap(opticType)],
    boardTypes: parts.kinds.map((_, i) => ({
      id: `b${i}`,
      name: '',
      outline: { shape: 'disc', diameterMm: 2 },
      emitter: `e${i}`,
      sites: [{ xMm: 0, yMm: 0 }],
    })),
    optic: 'bare',
    face: {
      shape: parts.faceShape ?? 'round',
      sizeMm: parts.faceSizeMm,
      reflectance: parts.faceReflectance ?? 0,
      keepOuts: [],
      clearanceMm: 0,
      marginMm: 0,
    },
    boards: parts.spots.map((spot, i) => {
      const kind = spot.kind ?? 0
      const ratedA = parts.kinds[kind] ? currentOf(parts.kinds[kind]) : 1
      return {
        id: `B${i + 1}`,
        type: `b${kind}`,
        xMm: spot.xMm,
        yMm: spot.yMm,
        turnDeg: spot.turnDeg ?? 0,
        currentA: ratedA * (spot.share ?? 1),
        ...(parts.kinds[kind]?.collimator ? { optic: `o${kind}` } : {}),
      }
    }),
    tunnel: parts.tunnel ?? null,
    lens: parts.lens,
    reading: { axialConeHalfDeg: 0.25, hotDiscMm: 10, sunWm2: 1000, sunTiltDeg: 0, ambientC: 20 },
    heat: { kind: 'rated' },
  }
}

const VOLTS = 12
/** Two fifths of the electrical input become light: typical of a good emitter, and never more than all of it. */
const currentOf = ({ watts }: EmitterKind) => Math.max(0.05, (2.5 * Math.min(MOST_WATTS, watts)) / VOLTS)

const emitterType = (kind: EmitterKind, i: number): EmitterType => ({
  id: `e${i}`,
  name: 'Invented',
  note: '',
  fluxLm: Math.min(MOST_WATTS, Math.max(1e-4, kind.watts)) * LM_PER_W,
  ratedCurrentA: currentOf(kind),
  ratedJunctionC: 85,
  source: kind.source,
  heightMm: kind.heightMm,
  bodyMm: 1,
  profile: kind.profile,
  spectrum: { kind: 'mono', wavelengthNm: 555 },
  forward: [{ currentA: currentOf(kind), volts: VOLTS }],
  fluxByCurrent: [],
  fluxByJunction: [],
  thermalResistanceKW: 0.01,
  maxCurrentA: currentOf(kind),
  maxJunctionC: 150,
})

const opticType = ({ collimator }: EmitterKind, i: number): OpticType[] =>
  collimator ? [{ kind: 'collimator', id: `o${i}`, name: '', ...collimator, efficiency: 1 }] : []

export const idealLens = (zMm: number, focalMm: number, diameterMm: number): Lens => ({
  kind: 'ideal',
  zMm,
  focalMm,
  diameterMm,
})

/** Index of acrylic near the middle of the visible, for starting values only. */
const ACRYLIC = 1.4935

/** The lens has whole rings, some draft and sharp tips, as the tracer needs them. */
export function fresnelLens(
  d: Dice,
  zMm: number,
  focalMm: number,
  diameterMm: number,
  grooves: 'target' | 'source',
): FresnelLens {
  const pitchMm = d.pick([0.5, 1, 2])
  return {
    kind: 'fresnel',
    zMm,
    focalMm,
    diameterMm: 2 * pitchMm * Math.round(diameterMm / (2 * pitchMm)),
    aperture: 'round',
    thicknessMm: d.between(1.5, 4),
    pitchMm,
    grooves,
    draftDeg: d.between(1, 5),
    tipShare: 0,
    material: d.pick(['pmma', 'pmma', 'crown']),
    designNm: 587.6,
  }
}

/** Plano-convex by R = (n − 1) f, no faster than half its radius allows. */
export function solidLens(zMm: number, focalMm: number, diameterMm: number, curved: 'target' | 'source'): SolidLens {
  const radiusMm = (ACRYLIC - 1) * focalMm
  const half = Math.min(diameterMm / 2, 0.7 * radiusMm)
  const sag = radiusMm - Math.sqrt(radiusMm ** 2 - half ** 2)
  return {
    kind: 'solid',
    zMm,
    diameterMm: 2 * half,
    radiusMm,
    conic: 0,
    thicknessMm: sag + 3,
    curved,
    material: 'pmma',
  }
}

/** Front focal length of a curved or grooved surface that reflects from within, behind a flat one: R/(2n) with R = (n − 1) f. */
export const innerGhostMm = (focalMm: number): number => (focalMm * (ACRYLIC - 1)) / (2 * ACRYLIC)
