// Lens and further elements in section, each as it stands: moved, tilted, cut off the axis.
import { elementsOf } from '../../lamp/assembly.ts'
import { bodyPlanes } from '../../lamp/body.ts'
import type { FresnelLens, SolidLens } from '../../lamp/schema.ts'
import { axesOf, faceSpan } from '../common/cut.ts'
import { lengthText } from '../common/lengthText.ts'
import { fresnelPlanes, type Point } from '../common/lensProfile.ts'
import type { Piece } from '../common/piece.ts'
import {
  type Chord,
  chordOf,
  curveLine,
  focusOf,
  groovesBetween,
  isOnAxis,
  isOptical,
  opticalAxis,
  plateCorners,
} from '../common/pieceCut.ts'
import { placeCallouts } from './model/sizes.ts'
import { line, type Pen, trace, widthOf, words } from './pen.ts'

/** Grooves narrower than this, px, are too fine to see; a hint is drawn instead. */
const GROOVE_PX = 3

export function drawElements(pen: Pen): void {
  const { ctx, paint } = pen
  const row = elementsOf(pen.lamp)
  ctx.save()
  ctx.lineJoin = 'miter'
  for (const e of row) {
    ctx.strokeStyle = e.kind === 'diffuser' ? paint.light : paint.steel
    ctx.fillStyle = `${e.kind === 'cover' ? paint['ink-faint'] : paint.steel}38`
    ctx.lineWidth = 1.25
    ctx.setLineDash([])
    drawElement(pen, e)
    if (isOptical(e) && !isOnAxis(e)) drawOpticalAxis(pen, e)
  }
  ctx.restore()
  drawNames(pen, row)
}

function drawElement(pen: Pen, e: Piece): void {
  const { ctx } = pen
  if (e.kind === 'ideal' || e.kind === 'diffuser') {
    const chord = chordOf(e, pen.cut)
    if (!chord) return
    const ends = [chord.at(chord.fromMm), chord.at(chord.toMm)] as const
    if (e.kind === 'diffuser') {
      ctx.setLineDash([2, 2])
      ctx.lineWidth = 2.5
    }
    trace(pen, ends)
    ctx.stroke()
    if (e.kind === 'ideal') arrowheads(pen, chord)
  } else if (e.kind === 'cover') plate(pen, plateCorners(e, pen.cut, ...bodyPlanes(e)))
  else if (e.kind === 'solid') drawSolid(pen, e)
  else drawFresnel(pen, e)
}

function plate(pen: Pen, corners: readonly Point[]): void {
  if (corners.length === 0) return
  trace(pen, corners, true)
  pen.ctx.fill()
  pen.ctx.stroke()
}

/** The sign of a thin lens: arrowheads at its ends, square to it. */
function arrowheads(pen: Pen, chord: Chord): void {
  const { ctx, camera } = pen
  const mm = 1 / camera.pxPerMm
  for (const [end, way] of [
    [chord.toMm, -1],
    [chord.fromMm, 1],
  ] as const) {
    const [z, r] = chord.at(end + way * 7 * mm)
    const [tipZ, tipR] = chord.at(end)
    const [uz, ur] = [chord.up[0] * 5 * mm, chord.up[1] * 5 * mm]
    ctx.beginPath()
    ctx.moveTo(pen.x(z - uz), pen.y(r - ur))
    ctx.lineTo(pen.x(tipZ), pen.y(tipR))
    ctx.lineTo(pen.x(z + uz), pen.y(r + ur))
    ctx.stroke()
  }
}

function drawSolid(pen: Pen, lens: SolidLens): void {
  const chord = chordOf(lens, pen.cut)
  if (!chord) return
  plate(pen, [chord.at(chord.fromMm), ...curveLine(lens, chord), chord.at(chord.toMm)])
}

function drawFresnel(pen: Pen, lens: FresnelLens): void {
  const { flatMm, valleyMm, rise } = fresnelPlanes(lens)
  const flat = chordOf(lens, pen.cut, flatMm - lens.zMm)
  const valleys = chordOf(lens, pen.cut, valleyMm - lens.zMm)
  if (!flat || !valleys) return
  const { ctx } = pen
  if (lens.pitchMm * pen.camera.pxPerMm >= GROOVE_PX) {
    const [from, to] = seen(pen, valleys)
    if (!(to > from)) return
    const grooves = groovesBetween(lens, valleys, from, to)
    trace(pen, [flat.at(Math.max(flat.fromMm, from)), ...grooves, flat.at(Math.min(flat.toMm, to))], true)
    ctx.fill()
    trace(pen, grooves)
    ctx.stroke()
    trace(pen, [flat.at(flat.fromMm), flat.at(flat.toMm)])
    ctx.stroke()
    return
  }
  const corners = [valleys.at(valleys.fromMm), valleys.at(valleys.toMm), flat.at(flat.toMm), flat.at(flat.fromMm)]
  plate(pen, corners)
  grooveHint(pen, valleys, rise)
}

/** Only what is on screen: a lens may have twenty thousand grooves. */
function seen(pen: Pen, chord: Chord): [number, number] {
  const [fromZ, fromR] = chord.at(chord.fromMm)
  const [toZ, toR] = chord.at(chord.toMm)
  let [low, high] = [0, 1]
  const clip = (a: number, b: number, top: number) => {
    if (Math.abs(b - a) < 1e-9) return
    const ends = [-a / (b - a), (top - a) / (b - a)]
    low = Math.max(low, Math.min(...ends))
    high = Math.min(high, Math.max(...ends))
  }
  clip(pen.x(fromZ), pen.x(toZ), pen.size.width)
  clip(pen.y(fromR), pen.y(toR), pen.size.height)
  const length = chord.toMm - chord.fromMm
  return [chord.fromMm + low * length, chord.fromMm + high * length]
}

/** Slanted ticks on the groove side, for grooves too fine to draw: they lean away from the optical axis. */
function grooveHint(pen: Pen, valleys: Chord, rise: 1 | -1): void {
  const { ctx, camera } = pen
  const mm = 1 / camera.pxPerMm
  const [from, to] = seen(pen, valleys)
  ctx.lineWidth = 0.75
  ctx.beginPath()
  for (let t = from + 2 * mm; t < to; t += 3.5 * mm) {
    const [z, r] = valleys.at(t)
    const [tipZ, tipR] = valleys.at(t - 2.5 * mm * Math.sign(t - valleys.axisMm))
    ctx.moveTo(pen.x(z), pen.y(r))
    ctx.lineTo(pen.x(tipZ + 4 * mm * rise * valleys.up[0]), pen.y(tipR + 4 * mm * rise * valleys.up[1]))
  }
  ctx.stroke()
}

/** Dash and dot, where it isn't the lamp's: it may pass beside the piece. */
function drawOpticalAxis(pen: Pen, lens: Parameters<typeof opticalAxis>[0]): void {
  const { ctx, camera, paint } = pen
  const [from, to] = opticalAxis(lens, pen.cut, 60 / camera.pxPerMm, 60 / camera.pxPerMm)
  // Seen from this side it lies on the lamp's.
  if (Math.max(Math.abs(from[1]), Math.abs(to[1])) < 1e-6) return
  ctx.strokeStyle = paint.steel
  ctx.lineWidth = 1
  ctx.setLineDash([12, 3, 2, 3])
  trace(pen, [from, to])
  ctx.stroke()
  words(pen, 'optical axis', pen.x(from[0]) - 6, pen.y(from[1]), { align: 'right', colour: paint.steel })
}

/** Above the handle on the lens's edge. */
const NAMES_ABOVE_PX = 34

/** Where there is more than the lens: the names over their upper ends, with leaders. */
function drawNames(pen: Pen, row: readonly (Piece & { name: string })[]): void {
  if (row.length < 2) return
  const { ctx, paint, size } = pen
  const found = row.flatMap((e) => {
    const chord = chordOf(e, pen.cut)
    if (!chord) return []
    const [z, r] = chord.at(chord.toMm)
    const x = pen.x(z)
    return x < 0 || x > size.width ? [] : [{ name: e.name, x, y: pen.y(r), widthPx: widthOf(pen, e.name) }]
  })
  const y = Math.min(...found.map((f) => f.y)) - NAMES_ABOVE_PX
  const places = placeCallouts(
    found.map((f) => ({ xPx: f.x, widthPx: f.widthPx })),
    8,
    size.width - 8,
    1,
  )
  ctx.save()
  ctx.strokeStyle = paint['rule-strong']
  for (const [i, f] of found.entries()) {
    const left = places[i]!.leftPx
    line(ctx, left + f.widthPx / 2, y + 7, f.x, f.y - 1)
    words(pen, f.name, left, y, { align: 'left' })
  }
  ctx.restore()
}

/** A labelled cross at the focus of the lens. */
export function drawFocus(pen: Pen): void {
  const { ctx, paint, lamp, size } = pen
  if (!lamp.lens) return
  const focus = focusOf(lamp.lens)
  const z = focus[2]
  const x = pen.x(z)
  const y = pen.y(focus[axesOf(pen.cut).r])
  ctx.save()
  ctx.strokeStyle = paint.ink
  ctx.lineWidth = 1
  if (x < 6 || x > size.width - 6) {
    const left = x < 6
    const text = left
      ? `← focus, ${lengthText(-z, pen.system)} behind the face`
      : `focus, ${lengthText(z, pen.system)} before the face →`
    words(pen, text, left ? 8 : size.width - 8, y - 10, { align: left ? 'left' : 'right' })
  } else {
    line(ctx, x - 6, y, x + 6, y)
    line(ctx, x, y - 6, x, y + 6)
    ctx.beginPath()
    ctx.arc(x, y, 3.5, 0, 2 * Math.PI)
    ctx.stroke()
    // The sizes of face and inlet are behind the face: the label goes below them.
    const below = z < 5 ? pen.y(faceSpan(lamp.face, pen.cut)[0]) + 12 : y + 15
    const offAxis = Math.abs(focus[axesOf(pen.cut).r]) > 1
    words(pen, 'focus', x, offAxis ? y - 15 : Math.max(y + 15, below), { colour: paint.ink })
  }
  ctx.restore()
}
