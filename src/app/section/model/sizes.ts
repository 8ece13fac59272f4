// Layout of the section's dimension lines and callouts.

import { elementsOf, type Stretch, stretchesOf } from '../../../lamp/assembly.ts'
import type { Lamp, Lens } from '../../../lamp/schema.ts'
import { faceSizeText, lengthWords } from '../../../report/faceText.ts'
import { alongOf, type Cut, faceSpan } from '../../common/cut.ts'
import { lengthText } from '../../common/lengthText.ts'
import { boxOf, isRound } from '../../common/piece.ts'
import { focusOf } from '../../common/pieceCut.ts'
import { sizesOf } from '../../common/stretchEdits.ts'
import type { UnitSystem } from '../../common/unitSystem.ts'

export interface SizeAlong {
  fromZMm: number
  toZMm: number
  /** 0: nearest to the lamp. */
  level: number
  text: string
  /** Instead, where there is little room; then beside it if need be. */
  short?: string
  /** Side of the label when it doesn't fit between the arrows. */
  outside: 'left' | 'right' | 'inside'
}
export interface SizeAcross {
  /** Where the extension lines start. */
  zMm: number
  rMm: number
  /** r of its middle, where that is not the axis. */
  middleMm?: number
  side: 'left' | 'right'
  level: number
  text: string
  /** Short form, where there is little room. */
  short: string
}

/** More stretches are dimensioned as one. */
const MOST_STRETCHES = 4

function stretchSize(s: Stretch, i: number, system: UnitSystem): SizeAlong {
  const size = lengthText(s.zOutMm - s.zInMm, system)
  const ends = { fromZMm: s.zInMm, toZMm: s.zOutMm }
  return { ...ends, level: 0, text: `stretch ${i + 1}: ${size}`, short: size, outside: 'inside' }
}

export function sizesAlong(lamp: Lamp, system: UnitSystem = 'metric'): SizeAlong[] {
  const { tunnel, lens } = lamp
  const sizes: SizeAlong[] = []
  const add = (fromZMm: number, toZMm: number, level: number, words: string, outside: 'left' | 'right') => {
    if (Math.abs(toZMm - fromZMm) < 0.05) return
    sizes.push({ fromZMm, toZMm, level, outside, text: words + lengthText(Math.abs(toZMm - fromZMm), system) })
  }
  if (tunnel) {
    add(0, tunnel.zInMm, 0, 'gap ', 'left')
    const stretches = stretchesOf(tunnel)
    if (stretches.length > MOST_STRETCHES) add(tunnel.zInMm, tunnel.zOutMm, 0, 'tunnel ', 'right')
    else
      for (const [i, s] of stretches.entries())
        if (stretches.length === 1) add(s.zInMm, s.zOutMm, 0, 'tunnel ', 'right')
        else sizes.push(stretchSize(s, i, system))
    const nearest = elementsOf(lamp).map((e) => boxOf(e).from[2])
    if (nearest.length > 0) add(tunnel.zOutMm, Math.min(...nearest), 0, 'gap ', 'right')
  }
  if (lens) {
    add(0, lens.zMm, 1, 'lens at ', 'right')
    add(focusOf(lens)[2], lens.zMm, 2, 'focus to lens ', 'right')
  }
  return sizes
}

export function sizesAcross(lamp: Lamp, cut: Cut = 'upright', system: UnitSystem = 'metric'): SizeAcross[] {
  const { face, tunnel, lens } = lamp
  const mark = (round: boolean, mm: number) =>
    round ? `⌀ ${lengthText(mm, system)}` : `${lengthText(mm, system)} across flats`
  const named = (name: string, size: string) => ({ text: `${name} ${size}`, short: size })
  const sizes: SizeAcross[] = [
    { zMm: 0, side: 'left', level: 0, ...ofFace(face, cut, system, (size) => named('face', size)) },
  ]
  if (tunnel) {
    const stretches = stretchesOf(tunnel)
    const { inMm } = sizesOf(stretches[0]!, alongOf(cut))
    const { outMm } = sizesOf(stretches.at(-1)!, alongOf(cut))
    const of = (mm: number) =>
      tunnel.inHeightMm === undefined ? mark(tunnel.sides === 0, mm) : inPlane(lengthText(mm, system), cut)
    sizes.push({ zMm: tunnel.zInMm, rMm: inMm / 2, side: 'left', level: 1, ...named('inlet', of(inMm)) })
    const level = lens ? 1 : 0
    sizes.push({ zMm: tunnel.zOutMm, rMm: outMm / 2, side: 'right', level, ...named('outlet', of(outMm)) })
  }
  const across = lens && lensAcross(lens, cut, system)
  if (lens && across)
    sizes.push({
      zMm: lens.zMm,
      rMm: across.halfMm,
      side: 'right',
      level: 0,
      ...named('lens', across.text(mark)),
    })
  return sizes
}

/** A rectangle's size that the section shows; the other is in the other plane. */
const inPlane = (size: string, cut: Cut): string => `${size} ${cut === 'upright' ? 'high' : 'wide'}`

/** Of a lens that stands off the axis the two ends differ: its size is in its part and on its handle. */
function lensAcross(lens: Lens, cut: Cut, system: UnitSystem): { halfMm: number; text(mark: Marker): string } | null {
  const { from, to } = boxOf(lens)
  const r = cut === 'upright' ? 1 : 0
  const halfMm = to[r]
  if (Math.abs(from[r] + halfMm) > 1e-6 || lens.tiltXDeg || lens.tiltYDeg) return null
  if (lens.aperture === 'rectangle')
    return lens.turnDeg ? null : { halfMm, text: () => inPlane(lengthText(2 * halfMm, system), cut) }
  return { halfMm, text: (mark) => mark(isRound(lens), lens.diameterMm) }
}
type Marker = (round: boolean, mm: number) => string

/** A rectangle and a polygon by what lies along the drawing; a polygon may lie beside the axis. */
function ofFace(
  face: Lamp['face'],
  cut: Cut,
  system: UnitSystem,
  named: (size: string) => Pick<SizeAcross, 'text' | 'short'>,
) {
  if (face.shape !== 'rectangle' && face.shape !== 'polygon')
    return { rMm: face.sizeMm / 2, ...named(faceSizeText(face, lengthWords(system))) }
  const [from, to] = faceSpan(face, cut)
  return { rMm: (to - from) / 2, middleMm: (from + to) / 2, ...named(lengthText(to - from, system)) }
}

export interface Callout {
  /** Where the leader starts. */
  xPx: number
  widthPx: number
}
export interface CalloutPlace {
  leftPx: number
  row: number
}

/** Places each label as near above its point as the rows allow; labels don't overlap while there is room for them. */
export function placeCallouts(items: readonly Callout[], fromPx: number, toPx: number, rows: number): CalloutPlace[] {
  const gap = 10
  const order = items.map((_, i) => i).sort((a, b) => items[a]!.xPx - items[b]!.xPx || a - b)
  const ends = Array.from({ length: rows }, () => fromPx - gap)
  const places: CalloutPlace[] = items.map(() => ({ leftPx: fromPx, row: 0 }))
  for (const i of order) {
    const { xPx, widthPx } = items[i]!
    const wish = Math.max(fromPx, Math.min(toPx - widthPx, xPx - widthPx / 2))
    let best = 0
    let bestCost = Number.POSITIVE_INFINITY
    for (let row = 0; row < rows; row++) {
      const left = Math.max(wish, ends[row]! + gap)
      const over = Math.max(0, left + widthPx - toPx)
      const cost = left - wish + 1000 * over + row
      if (cost < bestCost) {
        best = row
        bestCost = cost
      }
    }
    const left = Math.max(wish, ends[best]! + gap)
    ends[best] = left + widthPx
    places[i] = { leftPx: left, row: best }
  }
  return places
}
