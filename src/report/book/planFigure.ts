// The face from the front, true to scale: boards with their numbers, emitters with their optics, keep-outs, a scale bar.
import { counted } from '../../checks/words.ts'
import { faceBox, faceCorners } from '../../lamp/facePlate.ts'
import { boardTypeOf, type EmitterPlace, lampFromBoard, placeEmitters } from '../../lamp/place.ts'
import type { Board, EmitterType, Lamp, OpticType } from '../../lamp/schema.ts'
import { keepOutShape, outlinePath } from '../../layout/outline.ts'
import type { Shape } from '../../layout/shape.ts'
import { faceText, lengthWords } from '../faceText.ts'
import {
  backed,
  drawingScale,
  type FigureOptions,
  INK,
  line,
  type Point,
  QUIET,
  scaleBar,
  shape,
  textWidth,
} from './figureMarks.ts'
import type { Figure, Mark } from './model.ts'

const WIDTH = 480
/** So that the picture and its caption fit one page. */
const MOST_HIGH = 470
const MARGIN = 14
const BOARD_GREEN = '#dfeae4'

export function planFigure(
  lamp: Lamp,
  { plain, toScale, system = 'metric', mostHigh = MOST_HIGH }: FigureOptions = {},
): Figure {
  const { fromX, toX, fromY, toY } = planBox(lamp)
  const mostPerMm = Math.min((WIDTH - 2 * MARGIN) / (toX - fromX), mostHigh / (toY - fromY))
  const scaled = toScale ? drawingScale(mostPerMm) : null
  const perMm = scaled?.perMm ?? mostPerMm
  const left = (WIDTH - (toX - fromX) * perMm) / 2
  const at = (x: number, y: number): Point => [left + (x - fromX) * perMm, MARGIN + (toY - y) * perMm]
  const drawnHigh = MARGIN + (toY - fromY) * perMm
  const places = placeEmitters(lamp)
  const marks: Mark[] = [
    ...faceMarks(lamp, at, perMm),
    ...lamp.boards.map((board) => boardMark(lamp, board, at)),
    ...places.flatMap((p) => emitterMarks(at(p.xMm, p.yMm), p.optic, p.emitter, perMm)),
    ...lamp.face.keepOuts.map((k) => shapeMark(keepOutShape(k), at, perMm)),
  ]
  const words = `${faceText(lamp.face, lengthWords(system))} from the front, with ${counted(lamp.boards.length, 'board')}.`
  if (plain) return { width: WIDTH, height: drawnHigh + MARGIN, marks, words }
  marks.push(
    ...lamp.boards.flatMap((board, i) =>
      nameMarks(
        lamp,
        board,
        at,
        perMm,
        places.filter((p) => p.boardIndex === i),
      ),
    ),
    ...axesMarks(at, perMm),
    ...scaleBar([MARGIN, drawnHigh + 24], perMm, 120, system),
  )
  return { width: WIDTH, height: drawnHigh + 30, marks, words, ...(scaled && { scale: scaled.scale }) }
}

/** The face, and boards that stand out over its edge. */
function planBox(lamp: Lamp) {
  const box = { ...faceBox(lamp.face) }
  for (const board of lamp.boards)
    for (const [x, y] of boardPath(lamp, board)) {
      box.fromX = Math.min(box.fromX, x)
      box.toX = Math.max(box.toX, x)
      box.fromY = Math.min(box.fromY, y)
      box.toY = Math.max(box.toY, y)
    }
  return box
}

type Place = (x: number, y: number) => Point

const boardPath = (lamp: Lamp, board: Board): Point[] =>
  outlinePath(boardTypeOf(lamp, board).outline).map(([x, y]) => lampFromBoard(board, x, y))

function faceMarks({ face }: Lamp, at: Place, perMm: number): Mark[] {
  const style = { stroke: INK, width: 1.1, fill: '#f4f4f2' }
  const corners = faceCorners(face)
  if (corners)
    return [
      shape(
        corners.map(([x, y]) => at(x, y)),
        style,
      ),
    ]
  const [x, y] = at(0, 0)
  return [{ kind: 'circle', x, y, r: (face.sizeMm / 2) * perMm, ...style }]
}

const boardMark = (lamp: Lamp, board: Board, at: Place): Mark =>
  shape(
    boardPath(lamp, board).map(([x, y]) => at(x, y)),
    { stroke: '#37604f', width: 0.7, fill: BOARD_GREEN },
  )

const exitMm = (optic: OpticType, emitter: EmitterType): number =>
  optic.kind === 'bare' ? emitter.bodyMm : optic.exitDiameterMm

/** The optic's exit as a circle, the emitting surface as a dot in it. */
function emitterMarks([x, y]: Point, optic: OpticType, emitter: EmitterType, perMm: number): Mark[] {
  const { source } = emitter
  const wide = source.shape === 'disc' ? source.diameterMm : Math.min(source.widthMm, source.heightMm)
  return [
    { kind: 'circle', x, y, r: (exitMm(optic, emitter) / 2) * perMm, stroke: '#44586a', width: 0.5, fill: '#ffffff' },
    { kind: 'circle', x, y, r: Math.max(0.5, (wide / 2) * perMm), fill: '#e0a100' },
  ]
}

/** A keep-out: a hole, or a slot with round ends. */
function shapeMark({ core, radiusMm }: Shape, at: Place, perMm: number): Mark {
  const style = { stroke: '#b3121d', width: 0.8, fill: '#ffffff', dash: [2, 1.5] }
  const [first, second] = core
  if (!first || !second) {
    const [x, y] = at(first?.[0] ?? 0, first?.[1] ?? 0)
    return { kind: 'circle', x, y, r: radiusMm * perMm, ...style }
  }
  const along = Math.atan2(second[1] - first[1], second[0] - first[0])
  const half = (from: readonly [number, number], turn: number) =>
    Array.from({ length: 13 }, (_, i) => {
      const a = along + turn + (Math.PI * i) / 12
      return at(from[0] + radiusMm * Math.cos(a), from[1] + radiusMm * Math.sin(a))
    })
  return shape([...half(second, -Math.PI / 2), ...half(first, Math.PI / 2)], style)
}

/** The board's name: in its middle where no optic stands there, else at its lower edge. */
function nameMarks(lamp: Lamp, board: Board, at: Place, perMm: number, places: readonly EmitterPlace[]): Mark[] {
  const path = boardPath(lamp, board).map(([x, y]) => at(x, y))
  const low = path.reduce((a, p) => (p[1] > a[1] ? p : a), path[0] ?? [0, 0])
  const xs = path.map(([x]) => x)
  const wide = Math.max(...xs) - Math.min(...xs)
  const size = Math.max(3.5, Math.min(8, (0.8 * wide) / Math.max(1, textWidth(board.id, 1)), 5 * perMm))
  const [x, y] = at(board.xMm, board.yMm)
  const reach = Math.hypot(textWidth(board.id, size), size) / 2
  const isFree = places.every(({ xMm, yMm, optic, emitter }) => {
    const [ex, ey] = at(xMm, yMm)
    return Math.hypot(ex - x, ey - y) > reach + (exitMm(optic, emitter) / 2) * perMm
  })
  const style = { anchor: 'middle', size, bold: true, colour: '#1f3d31' } as const
  const name = {
    kind: 'text',
    x,
    y: isFree ? y + 0.36 * size : low[1] - 0.45 * size,
    text: board.id,
    ...style,
  } as const
  // Where it stands over optics, their circles would run through it.
  return isFree ? [name] : backed(name, BOARD_GREEN)
}

/** The lamp's axis, and where x and y point. */
function axesMarks(at: Place, perMm: number): Mark[] {
  const [x, y] = at(0, 0)
  const long = Math.max(6, 4 * perMm)
  const style = { stroke: QUIET, width: 0.5 }
  return [
    line(
      [
        [x - long, y],
        [x + long, y],
      ],
      style,
    ),
    line(
      [
        [x, y - long],
        [x, y + long],
      ],
      style,
    ),
  ]
}
