// The lamp cut along its axis in the upright plane, true to scale, with its sizes: face, boards, emitters, tunnel, lens and further elements.

import { elementsOf, pieceHalves, type RowElement, stretchesOf } from '../../lamp/assembly.ts'
import { bodyPlanes, conicSag, elementSpan, fromFrame } from '../../lamp/body.ts'
import { faceBox } from '../../lamp/facePlate.ts'
import { frontZMm, startZMm } from '../../lamp/front.ts'
import { boardTypeOf, placeEmitters, spaceFromBoard } from '../../lamp/place.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { outlinePath } from '../../layout/outline.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import {
  drawingScale,
  type FigureOptions,
  INK,
  lengthText,
  line,
  type Point,
  QUIET,
  scaleBar,
  shape,
  sizeAcross,
  sizeAlong,
  text,
} from './figureMarks.ts'
import type { Figure, Mark } from './model.ts'

const WIDTH = 480
const MOST_HIGH = 330
/** Room for the sizes across, left and right, and along, below. */
const LEFT = 34
const RIGHT = 44
const TOP = 16
/** The plate as it is drawn behind the face, mm: how thick it is matters to heat alone. */
const PLATE_MM = 12

/** Paths through the lamp: each a list of points (z, y), mm. */
export type SectionPath = readonly (readonly [number, number])[]

export function sectionFigure(
  lamp: Lamp,
  paths: readonly SectionPath[] = [],
  { plain, toScale, system = 'metric', mostHigh = MOST_HIGH }: FigureOptions = {},
): Figure {
  const { fromZ, toZ, low, high } = extentOf(lamp)
  const mostPerMm = Math.min((WIDTH - LEFT - RIGHT) / (toZ - fromZ), mostHigh / (high - low))
  const scaled = toScale ? drawingScale(mostPerMm) : null
  const perMm = scaled?.perMm ?? mostPerMm
  const left = LEFT + (WIDTH - LEFT - RIGHT - (toZ - fromZ) * perMm) / 2
  const at = (z: number, y: number): Point => [left + (z - fromZ) * perMm, TOP + (high - y) * perMm]
  const bottom = TOP + (high - low) * perMm
  const marks: Mark[] = [
    line([at(fromZ, 0), at(toZ, 0)], { stroke: QUIET, width: 0.4, dash: [8, 2, 1.5, 2] }),
    ...paths.map((p) =>
      line(
        clipped(p, fromZ, toZ, low, high).map(([z, y]) => at(z, y)),
        { stroke: '#e0a100', width: 0.35 },
      ),
    ),
    ...faceMarks(lamp, at),
    ...boardMarks(lamp, at),
    ...emitterMarks(lamp, at),
    ...tunnelMarks(lamp, at),
    ...elementsOf(lamp).flatMap((e) => elementMarks(e, at)),
  ]
  if (plain) return { width: WIDTH, height: bottom + TOP, marks, words: 'The lamp cut along its axis.' }
  const sizes = sizeMarks(lamp, at, bottom, low, high, system)
  marks.push(...sizes.marks, ...scaleBar([left, sizes.toY + 22], perMm, 120, system))
  const words = 'The lamp cut along its axis, with its sizes.'
  return { width: WIDTH, height: sizes.toY + 28, marks, words, ...(scaled && { scale: scaled.scale }) }
}

type Place = (z: number, y: number) => Point

function extentOf(lamp: Lamp) {
  const { fromY, toY } = faceBox(lamp.face)
  const ys = [fromY, toY]
  if (lamp.tunnel)
    for (const s of stretchesOf(lamp.tunnel)) {
      const half = Math.max(s.inHeightMm, s.outHeightMm) / 2
      ys.push(-half, half)
    }
  const corners = elementsOf(lamp).flatMap(outlineOf)
  const toZ = Math.max(frontZMm(lamp), ...corners.map(([z]) => z), 0.25 * (toY - fromY))
  const fromZ = Math.min(-PLATE_MM, ...corners.map(([z]) => z))
  ys.push(...corners.map(([, y]) => y))
  return { fromZ, toZ, low: Math.min(...ys), high: Math.max(...ys) }
}

/** Only what lies within the picture: paths go on to the target. */
const clipped = (path: SectionPath, fromZ: number, toZ: number, low: number, high: number): Point[] => {
  const inside: Point[] = []
  for (const [i, [z, y]] of path.entries()) {
    const before = path[i - 1]
    const out = z < fromZ || z > toZ || y < low || y > high
    if (!out) inside.push([z, y])
    else if (before) {
      const t = Math.min(
        shareTo(before[0], z, z > toZ ? toZ : fromZ, z > toZ || z < fromZ),
        shareTo(before[1], y, y > high ? high : low, y > high || y < low),
      )
      inside.push([before[0] + t * (z - before[0]), before[1] + t * (y - before[1])])
      break
    }
  }
  return inside
}
const shareTo = (from: number, to: number, limit: number, isOver: boolean): number =>
  isOver && to !== from ? Math.max(0, Math.min(1, (limit - from) / (to - from))) : 1

function faceMarks({ face }: Lamp, at: Place): Mark[] {
  const { fromY, toY } = faceBox(face)
  const corners = [at(-PLATE_MM, fromY), at(0, fromY), at(0, toY), at(-PLATE_MM, toY)]
  return [shape(corners, { stroke: INK, width: 0.9, fill: '#d7d7d2' })]
}

const BOARD_MM = 1.6

/** Each board from the side, the far ones behind the near. */
const boardMarks = (lamp: Lamp, at: Place): Mark[] =>
  lamp.boards.map((board) => {
    const path = outlinePath(boardTypeOf(lamp, board).outline, 15)
    const points = [0, BOARD_MM].flatMap((z) => path.map(([x, y]) => spaceFromBoard(board, [x, y, z])))
    return shape(hull(points.map(([, y, z]) => at(z, y))), { stroke: '#37604f', width: 0.3, fill: '#8fbfa9' })
  })

/** Convex hull by Andrew's monotone chain (A. M. Andrew, 1979; from memory): what is seen of a flat plate from the side. */
function hull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1])
  const chain = (all: readonly Point[]) => {
    const out: Point[] = []
    for (const p of all) {
      while (out.length > 1 && turns(out.at(-2), out.at(-1), p) <= 0) out.pop()
      out.push(p)
    }
    return out.slice(0, -1)
  }
  return [...chain(sorted), ...chain(sorted.toReversed())]
}
const turns = (a: Point | undefined, b: Point | undefined, c: Point): number =>
  a && b ? (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) : 1

/** Package and optic as a tapered box along the emitter's own axis. */
const emitterMarks = (lamp: Lamp, at: Place): Mark[] =>
  placeEmitters(lamp).map(({ xMm: _, yMm, baseZMm, rotation, emitter, optic }) => {
    const foot = emitter.bodyMm / 2
    const exit = optic.kind === 'bare' ? foot : optic.exitDiameterMm / 2
    const top = Math.max(emitter.heightMm, startZMm(emitter.heightMm, optic))
    const own: readonly Point[] = [
      [0, -foot],
      [emitter.heightMm, -foot],
      [top, -exit],
      [top, exit],
      [emitter.heightMm, foot],
      [0, foot],
    ]
    const points = own.map(([z, y]) =>
      at(baseZMm + z * rotation[8] + y * rotation[7], yMm + y * rotation[4] + z * rotation[5]),
    )
    return shape(points, { stroke: '#44586a', width: 0.25, fill: '#eaf1f6' })
  })

/** Its walls in the plane; steps join them. */
function tunnelMarks({ tunnel }: Lamp, at: Place): Mark[] {
  if (!tunnel) return []
  const wall = (side: 1 | -1) =>
    stretchesOf(tunnel).flatMap((s) => [
      at(s.zInMm, (side * s.inHeightMm) / 2),
      at(s.zOutMm, (side * s.outHeightMm) / 2),
    ])
  return [wall(1), wall(-1)].map((points) => line(points, { stroke: INK, width: 1.4 }))
}

const OUTLINE_STEPS = 24

/** Outline of an element's body in the plane, (z, y): both its sides from end to end, a solid lens's with its curve. */
function outlineOf(e: RowElement): Point[] {
  const { yMm: half } = pieceHalves(e)
  const [back, front] = bodyPlanes(e)
  const place = (y: number, z: number): Point => {
    const [, atY, atZ] = fromFrame(e, [0, y, z])
    return [atZ, atY]
  }
  if (e.kind === 'solid') {
    const curved = (y: number) => {
      const sag = conicSag(Math.hypot(e.centreXMm ?? 0, y - (e.centreYMm ?? 0)), e.radiusMm, e.conic)
      const h = Number.isNaN(sag) ? e.thicknessMm : Math.min(sag, e.thicknessMm)
      return e.curved === 'target' ? e.thicknessMm - h : h - e.thicknessMm
    }
    const ys = Array.from({ length: OUTLINE_STEPS + 1 }, (_, i) => half * ((2 * i) / OUTLINE_STEPS - 1))
    return [place(-half, 0), ...ys.map((y) => place(y, curved(y))), place(half, 0)]
  }
  return [place(-half, back), place(half, back), place(half, front), place(-half, front)]
}

const FILLS: Record<RowElement['kind'], string> = {
  fresnel: '#cfe3ee',
  solid: '#cfe3ee',
  ideal: '#ffffff',
  cover: '#e6f0f2',
  diffuser: '#f2ead8',
}

function elementMarks(e: RowElement, at: Place): Mark[] {
  const outline = outlineOf(e).map(([z, y]) => at(z, y))
  const body = shape(outline, { stroke: '#1f5a80', width: 0.9, fill: FILLS[e.kind] })
  if (e.kind !== 'fresnel') return [body]
  // Where its grooves are: ticks on that side, fewer than there are.
  const { yMm: half } = pieceHalves(e)
  const [back, front] = bodyPlanes(e)
  const [z, deep] = e.grooves === 'target' ? [front, back] : [back, front]
  const steps = 24
  const ticks = Array.from({ length: steps }, (_, i) => {
    const y = half * ((2 * i + 1) / steps - 1)
    const ends = [fromFrame(e, [0, y, z]), fromFrame(e, [0, y + half / steps, z + 0.6 * (deep - z)])]
    return line(
      ends.map(([, ey, ez]) => at(ez, ey)),
      { stroke: '#1f5a80', width: 0.4 },
    )
  })
  return [body, ...ticks]
}

/** Sizes along the axis below, in rows; sizes across at the two ends. */
function sizeMarks(
  lamp: Lamp,
  at: Place,
  bottom: number,
  low: number,
  high: number,
  system: UnitSystem,
): { marks: Mark[]; toY: number } {
  const { tunnel, lens } = lamp
  const rows: [number, number, string][] = []
  if (tunnel) {
    if (tunnel.zInMm > 0.05) rows.push([0, tunnel.zInMm, `gap ${lengthText(tunnel.zInMm, system)}`])
    rows.push([tunnel.zInMm, tunnel.zOutMm, `tunnel ${lengthText(tunnel.zOutMm - tunnel.zInMm, system)}`])
  }
  for (const e of elementsOf(lamp)) {
    const name = e.isLens ? 'lens' : e.name
    rows.push([0, e.zMm, `${name.length > 24 ? `${name.slice(0, 23)}…` : name} at ${lengthText(e.zMm, system)}`])
  }
  const along = rows.flatMap(([from, to, words], i) => {
    const y = bottom + 14 + 13 * i
    const ends = [at(from, low)[0], at(to, low)[0]]
    return [
      ...ends.map((x) =>
        line(
          [
            [x, bottom + 2],
            [x, y + 2],
          ],
          { stroke: QUIET, width: 0.25 },
        ),
      ),
      ...sizeAlong(at(from, 0)[0], at(to, 0)[0], y, words),
    ]
  })
  const { fromY, toY } = faceBox(lamp.face)
  const across = [
    ...sizeAcross(14, at(0, toY)[1], at(0, fromY)[1], `face ${lengthText(toY - fromY, system)}`),
    ...[toY, fromY].map((y) =>
      line(
        [
          [10, at(0, y)[1]],
          [at(-PLATE_MM, y)[0] - 2, at(0, y)[1]],
        ],
        { stroke: QUIET, width: 0.25 },
      ),
    ),
  ]
  const right = WIDTH - 12
  const end = rightSize(lamp, system)
  if (end)
    across.push(
      ...sizeAcross(right, at(0, end.half + end.middle)[1], at(0, end.middle - end.half)[1], end.words),
      ...[end.half, -end.half].map((half) => {
        const [x, y] = at(end.zMm, half + end.middle)
        return line(
          [
            [x + 3, y],
            [right + 4, y],
          ],
          { stroke: QUIET, width: 0.25 },
        )
      }),
    )
  const callout = lens || !tunnel ? [] : [text(at(tunnel.zOutMm, high), 'mouth', { anchor: 'end', colour: QUIET })]
  return { marks: [...along, ...across, ...callout], toY: bottom + 14 + 13 * rows.length }
}

/** What the right end's size is of: the lens, else the tunnel's mouth. */
function rightSize(
  lamp: Lamp,
  system: UnitSystem,
): { half: number; middle: number; zMm: number; words: string } | null {
  const { lens, tunnel } = lamp
  if (lens) {
    const { round, yMm } = pieceHalves(lens)
    const [, zMm] = elementSpan(lens)
    return {
      half: yMm,
      middle: lens.decentreYMm ?? 0,
      zMm,
      words: `lens ${round ? 'Ø ' : ''}${lengthText(2 * yMm, system)}`,
    }
  }
  if (!tunnel) return null
  const high = tunnel.outHeightMm ?? tunnel.outMm
  return {
    half: high / 2,
    middle: 0,
    zMm: tunnel.zOutMm,
    words: `mouth ${tunnel.sides === 0 ? 'Ø ' : ''}${lengthText(high, system)}`,
  }
}
