// Optics, tunnel, lenses and what holds and covers them: what the light passes.
import { elementsOf, isRectangle, pieceHalves, rowOrder, stretchesOf } from '../lamp/assembly.ts'
import { bodyPlanes, elementSpan, widestReachMm } from '../lamp/body.ts'
import { isOnFace } from '../lamp/facePlate.ts'
import { placeEmitters } from '../lamp/place.ts'
import type { Lamp, Lens, OpticType } from '../lamp/schema.ts'
import { materialOf } from '../library/lensMaterial.ts'
import { type FullWorkshop, workshopOf } from '../library/typicalWorkshop.ts'
import { elementBody, seamMm, stepAreaMm2, stretchSheet } from './bodies.ts'
import { gramsOf, keyNumber, type Mass, type PlainPart } from './part.ts'

export const lightParts = (lamp: Lamp): PlainPart[] => [
  ...opticParts(lamp),
  ...tunnelParts(lamp),
  ...ringParts(lamp),
  ...elementParts(lamp),
  ...coverParts(lamp),
]

function opticParts(lamp: Lamp): PlainPart[] {
  const counts = new Map<OpticType, number>()
  for (const { optic } of placeEmitters(lamp)) counts.set(optic, (counts.get(optic) ?? 0) + 1)
  return lamp.opticTypes.flatMap((o): PlainPart[] => {
    const amount = counts.get(o)
    if (amount === undefined || o.kind === 'bare') return []
    const heightMm = o.kind === 'collimator' ? o.heightMm : null
    return [
      {
        ...{ key: `optic:${o.id}`, step: 'optics', name: o.name, amount, unit: 'piece', material: null, mass: null },
        size: { of: 'optic', kind: o.kind, exitMm: o.exitDiameterMm, heightMm },
      },
    ]
  })
}

function tunnelParts(lamp: Lamp): PlainPart[] {
  const { tunnel } = lamp
  if (!tunnel) return []
  const { tunnelThicknessMm: thicknessMm, tunnelDensityKgM3, tunnelMaterial, seam } = workshopOf(lamp)
  const stated = lamp.workshop
  const known = stated?.tunnelThicknessMm !== undefined && stated.tunnelDensityKgM3 !== undefined
  const massOf = (areaMm2: number): Mass => ({
    g: gramsOf(areaMm2 * thicknessMm, tunnelDensityKgM3),
    basis: known ? 'computed' : 'typical',
    source: `${thicknessMm} mm at ${tunnelDensityKgM3} kg/m³, ${known ? 'as stated' : 'taken as typical'}`,
  })
  const row = { step: 'tunnel', amount: 1, unit: 'piece', material: tunnelMaterial, assumed: !known } as const
  const flapMm = seam.kind === 'flap' ? seam.widthMm : null
  const all = stretchesOf(tunnel)
  return all.flatMap((s, i): PlainPart[] => {
    const wall = stretchSheet(tunnel, s)
    const flap = (flapMm ?? 0) * seamMm(s)
    const areaMm2 = wall.areaMm2 + flap
    // The seam's place about the axis isn't in the document: its flap counts on the axis.
    const zMm = (wall.areaMm2 * wall.zMm + (flap * (s.zInMm + s.zOutMm)) / 2) / areaMm2
    const stretch: PlainPart = {
      ...{ ...row, key: `tunnel:${i + 1}`, name: s.finish ?? null, mass: massOf(areaMm2), placeMm: [0, 0, zMm] },
      size: {
        ...{ of: 'stretch', sides: tunnel.sides, rectangle: isRectangle(tunnel), fromZMm: s.zInMm, toZMm: s.zOutMm },
        ...{ inMm: s.inMm, outMm: s.outMm, inHeightMm: s.inHeightMm, outHeightMm: s.outHeightMm },
        ...{ areaCm2: areaMm2 / 100, thicknessMm, flapMm },
      },
    }
    const next = all[i + 1]
    const stepMm2 = next ? stepAreaMm2(tunnel, s, next) : 0
    if (!(stepMm2 > 0)) return [stretch]
    return [
      stretch,
      {
        ...{ ...row, key: `tunnel-step:${i + 1}`, name: null, mass: massOf(stepMm2), placeMm: [0, 0, s.zOutMm] },
        size: { of: 'step', zMm: s.zOutMm, areaCm2: stepMm2 / 100, thicknessMm },
      },
    ]
  })
}

function elementParts(lamp: Lamp): PlainPart[] {
  const order = rowOrder(lamp)
  return elementsOf(lamp).map((e, i): PlainPart => {
    const { xMm, yMm } = pieceHalves(e)
    const key = e.isLens ? 'lens' : `element:${(order[i] ?? 0) + 1}`
    const massive = e.kind !== 'ideal' && e.kind !== 'diffuser'
    const body = massive ? elementBody(e) : null
    const material = massive ? materialOf(e) : null
    return {
      ...{ key, step: 'lens', name: e.isLens ? null : e.name, amount: 1, unit: 'piece' },
      size: {
        ...{ of: 'element', kind: e.kind, shape: e.aperture ?? 'round', widthMm: 2 * xMm, heightMm: 2 * yMm },
        ...{ thicknessMm: massive ? e.thicknessMm : null, zMm: e.zMm },
      },
      material: material?.label ?? null,
      mass:
        body && material
          ? {
              ...{ g: gramsOf(body.volumeMm3, material.densityKgM3), basis: 'computed' },
              source: material.sources.density,
            }
          : null,
      placeMm: body?.centreMm ?? null,
    }
  })
}

/** A real lens, held by a ring. An ideal one is of no material. */
function ringParts(lamp: Lamp): PlainPart[] {
  const { lens } = lamp
  if (!lens || lens.kind === 'ideal') return []
  const workshop = workshopOf(lamp)
  const { lensRing: ring, printer } = workshop
  const assumed = lamp.workshop?.lensRing === undefined
  const [near] = elementSpan(lens)
  const row = { step: 'lens', name: null, unit: 'piece', material: null, mass: null, assumed } as const
  const thread = `M${keyNumber(ring.screwMm)}`
  const screws = (holds: 'ring' | 'standOff'): PlainPart => ({
    ...{ ...row, key: `screw:${holds}:${thread}`, amount: ring.screws },
    size: { of: 'screw', threadMm: ring.screwMm, holds },
  })
  const washer: PlainPart = {
    ...{ ...row, key: `washer:ring:${thread}`, amount: ring.screws, assumed: true },
    size: { of: 'washer', threadMm: ring.screwMm },
  }
  const { xMm } = pieceHalves(lens)
  const body: PlainPart = {
    ...{ ...row, key: 'lens-ring', amount: 1, material: 'Printed plastic', placeMm: ringPlace(lens) },
    size: {
      ...{ of: 'ring', innerMm: 2 * (xMm - ring.lipMm), outerMm: 2 * (xMm + ring.widthMm), heightMm: ring.heightMm },
    },
    mass: {
      ...{ g: gramsOf(ringVolumeMm3(lens, ring), printer.densityKgM3), basis: 'typical' },
      source: `taken as printed solid, ${printer.densityKgM3} kg/m³; screw holes and draft left out`,
    },
  }
  if (!standsOnFace(lamp)) {
    const nut: PlainPart = {
      ...{ ...row, key: `nut:ring:${thread}`, amount: ring.screws, assumed: true },
      size: { of: 'nut', threadMm: ring.screwMm },
    }
    return [body, screws('ring'), washer, nut]
  }
  const lengthMm = Math.max(0, near - Math.max(0, ring.heightMm - lensDepthMm(lens)))
  const standOff: PlainPart = {
    ...{ ...row, key: `stand-off:${thread}`, amount: ring.screws },
    size: { of: 'standOff', lengthMm, threadMm: ring.screwMm },
  }
  return [body, standOff, screws('ring'), screws('standOff'), washer]
}

const lensDepthMm = (lens: Lens): number => {
  const [near, far] = bodyPlanes(lens)
  return Math.abs(far - near)
}

function ringPlace(lens: Lens): [number, number, number] {
  const [near, far] = elementSpan(lens)
  return [lens.decentreXMm ?? 0, lens.decentreYMm ?? 0, (near + far) / 2]
}

/** A frame about the lens's edge with a lip on one side of it; a recess as deep as the lens lies in it. mm³. */
function ringVolumeMm3(lens: Lens, ring: FullWorkshop['lensRing']): number {
  const { round, xMm, yMm } = pieceHalves(lens)
  const area = (by: number) => {
    const [x, y] = [Math.max(0, xMm + by), Math.max(0, yMm + by)]
    return round ? Math.PI * x * x : 4 * x * y
  }
  const deep = Math.min(lensDepthMm(lens), ring.heightMm)
  const around = (area(ring.widthMm) - area(-ring.lipMm)) * ring.heightMm
  return around - (area(0) - area(-ring.lipMm)) * deep
}

/** Whether stand-offs along the axis, in the middle of the ring's width, all meet the face. */
export function standsOnFace(lamp: Lamp): boolean {
  const { lens, face } = lamp
  if (!lens || lens.kind === 'ideal') return false
  const { lensRing: ring } = workshopOf(lamp)
  const { round, xMm, yMm } = pieceHalves(lens)
  const [x0, y0] = [lens.decentreXMm ?? 0, lens.decentreYMm ?? 0]
  const [halfX, halfY] = [xMm + ring.widthMm / 2, yMm + ring.widthMm / 2]
  return Array.from({ length: ring.screws }, (_, i) => (2 * Math.PI * i) / ring.screws).every((at) => {
    const [c, s] = [Math.cos(at), Math.sin(at)]
    // On a frame the screw stands where the ray from the middle meets its middle line.
    const r = round ? halfX : Math.min(halfX / Math.abs(c), halfY / Math.abs(s))
    return isOnFace(face, x0 + r * c, y0 + r * s)
  })
}

/** Opaque, of what can't burn: it keeps the sun out of the lamp. */
function coverParts(lamp: Lamp): PlainPart[] {
  const reachMm = widestReachMm(lamp)
  if (reachMm === null) return []
  return [
    {
      ...{ key: 'lens-cover', step: 'cover', name: null, amount: 1, unit: 'piece', material: null, mass: null },
      size: { of: 'lensCover', atLeastMm: 2 * reachMm },
      assumed: true,
    },
  ]
}
