// Optics, tunnel, lenses and what holds and covers them: what the light passes.

import { tunnelBlanks } from '../drawing/tunnelSheets.ts'
import {
  elementsOf,
  isRectangle,
  mappedElement,
  pieceHalves,
  type RowElement,
  rowOrder,
  type Stretch,
  stretchesOf,
} from '../lamp/assembly.ts'
import { fromFrame, widestReachMm } from '../lamp/body.ts'
import { isOnFace } from '../lamp/facePlate.ts'
import { placeEmitters } from '../lamp/place.ts'
import type { Lamp, OpticType, Tunnel } from '../lamp/schema.ts'
import { printedRing, type RingSizes, ringSizes, standOffsOf } from '../layout/lensRing.ts'
import { materialOf } from '../library/lensMaterial.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { elementBody, stepAreaMm2, stretchSheet } from './bodies.ts'
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
  const areas = blankAreas(lamp, tunnel, all)
  return all.flatMap((s, i): PlainPart[] => {
    const areaMm2 = areas[i] ?? 0
    // The seam's place about the axis isn't in the document: its flap counts on the axis.
    const wall = stretchSheet(tunnel, s)
    const zMm = (wall.areaMm2 * wall.zMm + ((areaMm2 - wall.areaMm2) * (s.zInMm + s.zOutMm)) / 2) / areaMm2
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

/** Of each stretch, mm²: what its blanks take of the sheet, as they are drawn; of a curve its share. Where none are drawn, its inside. */
function blankAreas(lamp: Lamp, tunnel: Tunnel, all: readonly Stretch[]): number[] {
  const inside = all.map((s) => stretchSheet(tunnel, s).areaMm2)
  const areas = [...inside]
  for (const { first, stretches, areaMm2 } of tunnelBlanks(lamp)) {
    const sum = inside.slice(first, first + stretches).reduce((a, b) => a + b, 0)
    for (let i = first; i < first + stretches; i++) areas[i] = (areaMm2 * (inside[i] ?? 0)) / sum
  }
  return areas
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

/** Of what has a body: the lens, without one the first cover or film, as the solid has it. */
export function heldByRing(lamp: Lamp): RowElement | null {
  const piece = mappedElement(lamp)
  return piece && piece.kind !== 'ideal' ? piece : null
}

function ringParts(lamp: Lamp): PlainPart[] {
  const piece = heldByRing(lamp)
  if (!piece) return []
  const { lensRing: ring, printer } = workshopOf(lamp)
  const sizes = ringSizes(piece, ring)
  const { fromMm, toMm, volumeMm3 } = printedRing(sizes, ring, printer)
  const assumed = lamp.workshop?.lensRing === undefined
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
  const { round, inner, outer } = sizes
  const body: PlainPart = {
    ...{ ...row, key: 'lens-ring', amount: 1, material: 'Printed plastic' },
    placeMm: fromFrame(piece, [0, 0, (fromMm + toMm) / 2]),
    size: {
      ...{ of: 'ring', round, innerMm: doubled(inner), outerMm: doubled(outer), lipMm: ring.heightMm },
      heightMm: toMm - fromMm,
    },
    mass: {
      ...{ g: gramsOf(volumeMm3, printer.densityKgM3), basis: 'typical' },
      source: `taken as printed solid, ${printer.densityKgM3} kg/m³`,
    },
  }
  if (!standsOnFace(lamp)) {
    const nut: PlainPart = {
      ...{ ...row, key: `nut:ring:${thread}`, amount: ring.screws, assumed: true },
      size: { of: 'nut', threadMm: ring.screwMm },
    }
    return [body, screws('ring'), washer, nut]
  }
  return [body, ...standOffParts(lamp, sizes, row), screws('ring'), screws('standOff'), washer]
}

const doubled = ([x, y]: readonly [number, number]): [number, number] => [2 * x, 2 * y]

/** Under a tilted piece one row for each length. */
function standOffParts(
  lamp: Lamp,
  sizes: RingSizes,
  row: Pick<PlainPart, 'step' | 'name' | 'unit' | 'material' | 'mass' | 'assumed'>,
): PlainPart[] {
  const { screwMm: threadMm } = workshopOf(lamp).lensRing
  const counts = new Map<number, number>()
  for (const { lengthMm } of standOffsOf(sizes)) {
    const length = Number(Math.max(0, lengthMm).toFixed(2))
    counts.set(length, (counts.get(length) ?? 0) + 1)
  }
  const key = `stand-off:M${keyNumber(threadMm)}`
  return [...counts].map(([lengthMm, amount]) => ({
    ...{ ...row, key: counts.size === 1 ? key : `${key}:${keyNumber(lengthMm)}`, amount },
    size: { of: 'standOff', lengthMm, threadMm },
  }))
}

/** Whether stand-offs along the axis, one at each screw of the ring, all meet the face. */
export function standsOnFace(lamp: Lamp): boolean {
  const piece = heldByRing(lamp)
  if (!piece) return false
  return standOffsOf(ringSizes(piece, workshopOf(lamp).lensRing)).every(({ xMm, yMm }) => isOnFace(lamp.face, xMm, yMm))
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
