// Defaults of new parts. Each fits its lamp and is valid by the schema.

import { elementsOf, pieceReachMm } from '../../lamp/assembly.ts'
import { conicSag, elementSpan } from '../../lamp/body.ts'
import { topZMm } from '../../lamp/front.ts'
import { SHORTEST_FOCUS } from '../../lamp/lensChecks.ts'
import { LIMITS } from '../../lamp/limits.ts'
import { liesFlat, placeEmitters } from '../../lamp/place.ts'
import type {
  Element,
  KeepOut,
  Lamp,
  Lens,
  LensMaterial,
  OpticType,
  Profile,
  Spectrum,
  Tunnel,
} from '../../lamp/schema.ts'
import { passedLastMm } from '../common/extent.ts'
import { freeId } from './edits.ts'
import { fullWidthDeg } from './model/emitterCurve.ts'
import { asSamples } from './model/ultraviolet.ts'

const clamp = (v: number, low: number, high: number) => Math.min(high, Math.max(low, v))
const round = (v: number) => Math.round(v * 10) / 10

/** Height of the tallest part on the face. */
function tallestMm(lamp: Lamp): number {
  const optics = lamp.opticTypes.map((o) => (o.kind === 'collimator' ? o.heightMm : 0))
  const raised = lamp.boards.every(liesFlat) ? 0 : placeEmitters(lamp).reduce((top, p) => Math.max(top, topZMm(p)), 0)
  return Math.max(raised, ...optics, ...lamp.emitterTypes.map((e) => e.heightMm))
}

export function newTunnel(lamp: Lamp, sides: Tunnel['sides']): Tunnel {
  const nearZ = Math.min(Infinity, ...elementsOf(lamp).map((e) => elementSpan(e)[0]))
  const zInMm = round(Math.min(tallestMm(lamp) + 2, nearZ / 2))
  const zOutMm = Number.isFinite(nearZ) ? round(Math.max(nearZ - 10, (zInMm + nearZ) / 2)) : zInMm + lamp.face.sizeMm
  return {
    sides,
    inMm: clamp(lamp.face.sizeMm, 1, LIMITS.lensMm),
    outMm: clamp(lamp.lens?.diameterMm ?? lamp.face.sizeMm * 1.2, 1, LIMITS.lensMm),
    zInMm,
    zOutMm: clamp(zOutMm, 0.1, LIMITS.lengthMm),
    reflectance: 0.87,
    specularShare: 0.9,
    scatterDeg: 1,
  }
}

/** Facets of the lowest index that a material may have (1.3) bend light at the edge from 0.442 diameters on: see `findLensMaterialFaults`. */
const leastFocus = (material: LensMaterial) => (material === 'own' || material === 'silicone' ? 0.45 : SHORTEST_FOCUS)

/** What a lens of another kind takes over from the old one: outline and place. */
function pieceOf(old: Lens | null): Partial<Lens> {
  if (!old) return {}
  const keys = [
    'heightMm',
    'decentreXMm',
    'decentreYMm',
    'tiltXDeg',
    'tiltYDeg',
    'turnDeg',
    'centreXMm',
    'centreYMm',
  ] as const
  const entries = keys.flatMap((key) => (old[key] === undefined ? [] : [[key, old[key]] as const]))
  const outlined = old.aperture !== undefined && old.aperture !== 'round'
  return { ...Object.fromEntries(entries), ...(outlined ? { aperture: old.aperture } : {}) }
}

/** A further element in front of all others, of the size of the one before it. */
export function newElement(lamp: Lamp, kind: Element['kind'], wished: string): Element {
  const before = elementsOf(lamp).at(-1) ?? null
  const name = freeName(lamp.elements ?? [], wished)
  const nearest = lamp.elements || lamp.lens || lamp.tunnel ? passedLastMm(lamp) + 10 : tallestMm(lamp) + 20
  const zMm = clamp(round(nearest), 1, LIMITS.lengthMm)
  const diameterMm = before?.diameterMm ?? clamp(lamp.tunnel?.outMm ?? lamp.face.sizeMm, 1, LIMITS.lensMm)
  const tall = before ? before.heightMm : lamp.tunnel?.outHeightMm
  const rectangle = tall === undefined ? {} : { aperture: 'rectangle' as const, heightMm: tall }
  const outline = { aperture: before?.aperture ?? ('round' as const), ...rectangle }
  if (kind === 'cover') return { name, kind, zMm, diameterMm, ...outline, thicknessMm: 3, material: 'pmma' }
  if (kind === 'diffuser')
    return { name, kind, zMm, diameterMm, ...outline, spreadDeg: 5, transmittance: 0.9, reflectance: 0.07 }
  const { heightMm: _, aperture: __, ...lens } = newLens({ ...lamp, lens: null }, kind)
  return { name, ...lens, zMm, ...sized(lens, diameterMm), ...outline } as Element
}

/** A lens of that size: one that was begun for another would be too steep for it. */
function sized(lens: Pick<Lens, 'diameterMm'> & Partial<Lens>, diameterMm: number): object {
  if ('radiusMm' in lens) {
    const radiusMm = clamp(round(1.5 * diameterMm), 1, LIMITS.lengthMm)
    return { diameterMm, radiusMm, thicknessMm: Math.ceil(conicSag(0.71 * diameterMm, radiusMm, 0) + 5) }
  }
  return { diameterMm, focalMm: clamp(round(2 * diameterMm), 1, LIMITS.lengthMm) }
}

const freeName = (rows: readonly { name: string }[], wished: string): string => {
  if (!rows.some((r) => r.name === wished)) return wished
  for (let n = 2; ; n++) if (!rows.some((r) => r.name === `${wished} ${n}`)) return `${wished} ${n}`
}

export function newLens(lamp: Lamp, kind: Lens['kind']): Lens {
  const old = lamp.lens
  const piece = pieceOf(old)
  const afterMm = lamp.tunnel ? lamp.tunnel.zOutMm + 10 : tallestMm(lamp) + lamp.face.sizeMm
  // One of another kind stays among its neighbours.
  const zMm = clamp(Math.max(old?.zMm ?? clearOfElementsMm(lamp), afterMm), 1, LIMITS.lengthMm)
  const diameterMm = old?.diameterMm ?? clamp(lamp.tunnel?.outMm ?? lamp.face.sizeMm, 1, LIMITS.lensMm)
  const focalMm = clamp(old && old.kind !== 'solid' ? old.focalMm : round(zMm * 1.05), 1, LIMITS.lengthMm)
  const reachMm = pieceReachMm({ diameterMm, ...piece })
  const material = {
    material: old && old.kind !== 'ideal' ? old.material : ('pmma' as const),
    ...(old && old.kind !== 'ideal' && old.ownMaterial ? { ownMaterial: old.ownMaterial } : {}),
  }
  if (kind === 'ideal') return { kind, zMm, focalMm, diameterMm, ...piece } as Lens
  if (kind === 'solid') {
    // Thin plano-convex lens: f = R / (n - 1), n about 1.49; never steeper than a third of a turn at its edge.
    const radiusMm = clamp(round(Math.max(0.49 * focalMm, 1.5 * reachMm)), 1, LIMITS.lengthMm)
    const thicknessMm = Math.ceil(conicSag(reachMm, radiusMm, 0) + 5)
    return { kind, zMm, diameterMm, radiusMm, conic: 0, thicknessMm, curved: 'target', ...material, ...piece } as Lens
  }
  return {
    kind,
    zMm,
    focalMm: Math.max(focalMm, leastFocus(material.material) * 2 * reachMm),
    diameterMm,
    aperture: 'round',
    thicknessMm: 3,
    pitchMm: 0.5,
    grooves: 'target',
    draftDeg: 3,
    tipShare: 0,
    ...material,
    designNm: 587.6,
    ...piece,
  } as Lens
}

/** In front of all covers, films and further lenses. */
const clearOfElementsMm = ({ elements }: Lamp): number =>
  Math.max(0, ...(elements ?? []).map((e) => Math.ceil(elementSpan(e)[1]) + 10))

export function newOptic(lamp: Lamp, kind: OpticType['kind']): OpticType {
  const id = freeId(lamp.opticTypes, kind)
  if (kind === 'bare') return { kind, id, name: 'Bare emitter' }
  if (kind === 'collimator') {
    const size = { exitDiameterMm: 10, heightMm: 12, fwhmDeg: 12 }
    return { kind, id, name: 'Collimator 12°, 10 mm', ...size, shape: 'gaussian', efficiency: 0.88 }
  }
  return {
    kind,
    id,
    name: 'Reflector cup, 20 mm',
    focalMm: 2.5,
    exitDiameterMm: 20,
    reflectance: 0.87,
    shiftXMm: 0,
    shiftYMm: 0,
    shiftZMm: 0,
  }
}

export const newProfile = (kind: 'cosine' | 'gaussian', old: Profile): Profile => ({
  kind,
  // A cosine power is at least 1° wide.
  fwhmDeg: Math.max('fwhmDeg' in old ? old.fwhmDeg : fullWidthDeg(old), kind === 'cosine' ? 1 : 0.5),
})

export type SpectrumKey = '3000' | '4000' | '5000' | '6500' | 'equalEnergy' | 'mono' | 'table'

export const spectrumKey = (s: Spectrum): SpectrumKey =>
  s.kind === 'white' ? (String(s.classK) as SpectrumKey) : s.kind

export function newSpectrum(key: SpectrumKey, old: Spectrum): Spectrum {
  if (key === 'table') return asSamples(old)
  if (key === 'mono') return { kind: 'mono', wavelengthNm: 530 }
  if (key === 'equalEnergy') return { kind: 'equalEnergy' }
  return { kind: 'white', classK: Number(key) as 3000 | 4000 | 5000 | 6500 }
}

export const newKeepOut = (shape: KeepOut['shape']): KeepOut =>
  shape === 'hole'
    ? { shape, xMm: 0, yMm: 0, diameterMm: 5, why: 'Screw' }
    : { shape, xMm: 0, yMm: 0, lengthMm: 20, widthMm: 6, turnDeg: 0, why: 'Cable' }
