// Face, sink, emitters, boards and how they are held: what stands behind the light.

import { faceAreaMm2, faceBox, faceHeightMm } from '../lamp/facePlate.ts'
import { boardTypeOf, spaceFromBoard } from '../lamp/place.ts'
import type { Board, BoardType, Lamp } from '../lamp/schema.ts'
import { outlineArea, outlinePath } from '../layout/outline.ts'
import { METALS } from '../library/metals.ts'
import { coolingOf, TYPICAL_BOARD } from '../library/typicalPower.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { boxOfCorners, centroid } from '../num/polygon.ts'
import { faceCentre, finBodies, type Point } from './bodies.ts'
import { gramsOf, keyNumber, type Mass, type PlainPart } from './part.ts'

export const headParts = (lamp: Lamp): PlainPart[] => [
  facePart(lamp),
  ...sinkParts(lamp),
  ...emitterParts(lamp),
  ...boardParts(lamp),
  ...fixingParts(lamp),
]

function facePart(lamp: Lamp): PlainPart {
  const { face } = lamp
  const { value, assumptions } = coolingOf(lamp)
  const { thicknessMm, metal } = value.plate
  const { label, densityKgM3, densitySource } = METALS[metal]
  const { fromX, toX } = faceBox(face)
  const [x, y] = faceCentre(face)
  return {
    key: 'face',
    step: 'face',
    name: null,
    amount: 1,
    unit: 'piece',
    size: { of: 'plate', shape: face.shape, widthMm: toX - fromX, heightMm: faceTallMm(lamp), thicknessMm },
    material: label,
    mass: {
      g: gramsOf(faceAreaMm2(face) * thicknessMm, densityKgM3),
      basis: assumptions.length > 0 ? 'typical' : 'computed',
      source: densitySource,
    },
    placeMm: [x, y, -thicknessMm / 2],
    assumed: assumptions.length > 0,
  }
}

function faceTallMm({ face }: Lamp): number {
  if (face.shape === 'rectangle') return faceHeightMm(face)
  const { fromY, toY } = faceBox(face)
  return toY - fromY
}

function sinkParts(lamp: Lamp): PlainPart[] {
  const { plate, sink, air } = coolingOf(lamp).value
  const row = { step: 'sink', name: null, amount: 1, unit: 'piece', material: null, mass: null } as const
  const fan: PlainPart[] = air.kind === 'fan' ? [{ ...row, key: 'fan', size: { of: 'fan' } }] : []
  if (sink.kind === 'none') return fan
  if (sink.kind === 'rated') {
    const size = { of: 'ratedSink', resistanceKW: sink.resistanceKW, forced: sink.flow === 'forced' } as const
    return [{ ...row, key: 'sink', size }, ...fan]
  }
  const bodies = finBodies(sink, lamp.face)
  if (bodies.count === 0) return fan
  const { label, densityKgM3, densitySource } = METALS[plate.metal]
  const [x, y] = bodies.centreMm
  const size: PlainPart['size'] =
    sink.kind === 'pins'
      ? {
          ...{ of: 'pins', pins: bodies.count, heightMm: sink.heightMm },
          ...{ diameterMm: sink.diameterMm, spacingMm: sink.spacingMm },
        }
      : {
          ...{ of: 'fins', fins: bodies.count, heightMm: sink.heightMm, thicknessMm: sink.thicknessMm },
          ...{ spacingMm: sink.spacingMm, allLengthMm: bodies.lengthMm },
        }
  const mass: Mass = { g: gramsOf(bodies.volumeMm3, densityKgM3), basis: 'computed', source: densitySource }
  const placeMm: Point = [x, y, -plate.thicknessMm - sink.heightMm / 2]
  return [{ ...row, key: 'sink', size, material: label, mass, placeMm }, ...fan]
}

/** Boards by type, in the order of the lamp's types; types without a board give none. */
function boardsByType(lamp: Lamp): { type: BoardType; boards: Board[] }[] {
  return lamp.boardTypes
    .map((type) => ({ type, boards: lamp.boards.filter((b) => b.type === type.id) }))
    .filter(({ boards }) => boards.length > 0)
}

function emitterParts(lamp: Lamp): PlainPart[] {
  const counts = new Map<string, number>()
  for (const { type, boards } of boardsByType(lamp))
    counts.set(type.emitter, (counts.get(type.emitter) ?? 0) + boards.length * type.sites.length)
  return lamp.emitterTypes.flatMap((e): PlainPart[] => {
    const amount = counts.get(e.id)
    if (amount === undefined) return []
    const size = { of: 'emitter', bodyMm: e.bodyMm, currentA: e.ratedCurrentA } as const
    const row = { step: 'emitters', name: e.name, amount, unit: 'piece', material: null, mass: null } as const
    return [{ ...row, key: `emitter:${e.id}`, size }]
  })
}

/** Less its screw holes; those that reach over its edge count whole. */
const boardAreaMm2 = ({ outline, holes = [] }: BoardType): number =>
  Math.max(0, outlineArea(outline) - holes.reduce((sum, h) => sum + (Math.PI / 4) * h.diameterMm ** 2, 0))

function boardParts(lamp: Lamp): PlainPart[] {
  const { metalMm } = TYPICAL_BOARD
  const { densityKgM3, densitySource } = METALS['aluminium-6061']
  return boardsByType(lamp).map(({ type, boards }): PlainPart => {
    const { fromX, toX, fromY, toY } = boxOfCorners(outlinePath(type.outline))
    const size = { of: 'board', widthMm: toX - fromX, heightMm: toY - fromY, thicknessMm: metalMm } as const
    return {
      key: `board:${type.id}`,
      step: 'boards',
      name: type.name,
      amount: boards.length,
      unit: 'piece',
      size: { ...size, emitters: type.sites.length },
      material: 'Metal-core board, aluminium',
      mass: {
        g: boards.length * gramsOf(boardAreaMm2(type) * metalMm, densityKgM3),
        basis: 'typical',
        source: `a metal-core board of ${metalMm} mm aluminium is taken (memory), without its emitters; ${densitySource}`,
      },
      placeMm: meanPlace(boards.map((b) => boardMiddle(type, b, metalMm))),
    }
  })
}

function boardMiddle({ outline }: BoardType, board: Board, thicknessMm: number): Point {
  const [x, y] = outline.shape === 'polygon' ? centroid(outline.corners) : [0, 0]
  return spaceFromBoard(board, [x, y, thicknessMm / 2])
}

const meanPlace = (all: readonly Point[]): Point => {
  const mean = (k: 0 | 1 | 2) => all.reduce((sum, p) => sum + p[k], 0) / all.length
  return [mean(0), mean(1), mean(2)]
}

/** Spacers and wedges under boards, compound, screws, washers. */
function fixingParts(lamp: Lamp): PlainPart[] {
  const row = { step: 'boards', name: null, unit: 'piece', material: null, mass: null } as const
  const areaMm2 = lamp.boards.reduce((sum, b) => sum + boardAreaMm2(boardTypeOf(lamp, b)), 0)
  const compound: PlainPart[] =
    areaMm2 > 0
      ? [{ ...row, key: 'compound', amount: areaMm2 / 100, unit: 'cm²', size: { of: 'compound' }, assumed: true }]
      : []
  const threadMm = workshopOf(lamp).boardScrewMm
  const screws = lamp.boards.reduce((sum, b) => sum + (boardTypeOf(lamp, b).holes?.length ?? 0), 0)
  const thread = `M${keyNumber(threadMm)}`
  const fixed: PlainPart[] =
    screws > 0
      ? [
          {
            ...{ ...row, key: `screw:board:${thread}`, amount: screws, assumed: !lamp.workshop?.boardScrewMm },
            size: { of: 'screw', threadMm, holds: 'board' },
          },
          {
            ...{ ...row, key: `washer:board:${thread}`, amount: screws, assumed: true },
            size: { of: 'washer', threadMm },
          },
        ]
      : []
  return [...underParts(lamp), ...compound, ...fixed]
}

function underParts(lamp: Lamp): PlainPart[] {
  const found = new Map<string, PlainPart>()
  for (const { heightMm = 0, wedge } of lamp.boards) {
    const tiltDeg = Math.abs(wedge?.tiltDeg ?? 0)
    if (heightMm === 0 && tiltDeg === 0) continue
    const key = tiltDeg > 0 ? `wedge:${keyNumber(tiltDeg)}:${keyNumber(heightMm)}` : `spacer:${keyNumber(heightMm)}`
    const known = found.get(key)
    if (known) known.amount++
    else
      found.set(key, {
        ...{ key, step: 'boards', name: null, amount: 1, unit: 'piece', material: null, mass: null },
        size: tiltDeg > 0 ? { of: 'wedge', heightMm, tiltDeg } : { of: 'spacer', heightMm },
      })
  }
  return [...found.values()]
}
