// Layout of the section's dimension lines and callouts.
import { lensSpan } from '../../../lamp/read.ts'
import type { Lamp } from '../../../lamp/schema.ts'
import { faceSizeText } from '../../../report/faceText.ts'
import { type Cut, faceSpan } from '../../common/cut.ts'
import { lengthText } from '../../common/lengthText.ts'
import { focusZMm } from '../../common/lensProfile.ts'

export interface SizeAlong {
  fromZMm: number
  toZMm: number
  /** 0: nearest to the lamp. */
  level: number
  text: string
  /** Side of the label when it doesn't fit between the arrows. */
  outside: 'left' | 'right'
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

export function sizesAlong(lamp: Lamp): SizeAlong[] {
  const { tunnel, lens } = lamp
  const sizes: SizeAlong[] = []
  const add = (fromZMm: number, toZMm: number, level: number, words: string, outside: 'left' | 'right') => {
    if (Math.abs(toZMm - fromZMm) < 0.05) return
    sizes.push({ fromZMm, toZMm, level, outside, text: words + lengthText(Math.abs(toZMm - fromZMm)) })
  }
  if (tunnel) {
    add(0, tunnel.zInMm, 0, 'gap ', 'left')
    add(tunnel.zInMm, tunnel.zOutMm, 0, 'tunnel ', 'right')
    if (lens) add(tunnel.zOutMm, lensSpan(lens)[0], 0, 'gap ', 'right')
  }
  if (lens) {
    add(0, lens.zMm, 1, 'lens at ', 'right')
    add(focusZMm(lens), lens.zMm, 2, 'focus to lens ', 'right')
  }
  return sizes
}

export function sizesAcross(lamp: Lamp, cut: Cut = 'upright'): SizeAcross[] {
  const { face, tunnel, lens } = lamp
  const mark = (round: boolean, mm: number) => (round ? `⌀ ${lengthText(mm)}` : `${lengthText(mm)} across flats`)
  const named = (name: string, size: string) => ({ text: `${name} ${size}`, short: size })
  const sizes: SizeAcross[] = [{ zMm: 0, side: 'left', level: 0, ...ofFace(face, cut, (size) => named('face', size)) }]
  if (tunnel) {
    const round = tunnel.sides === 0
    sizes.push({
      zMm: tunnel.zInMm,
      rMm: tunnel.inMm / 2,
      side: 'left',
      level: 1,
      ...named('inlet', mark(round, tunnel.inMm)),
    })
    sizes.push({
      zMm: tunnel.zOutMm,
      rMm: tunnel.outMm / 2,
      side: 'right',
      level: lens ? 1 : 0,
      ...named('outlet', mark(round, tunnel.outMm)),
    })
  }
  if (lens) {
    const round = lens.kind !== 'fresnel' || lens.aperture === 'round'
    sizes.push({
      zMm: lens.zMm,
      rMm: lens.diameterMm / 2,
      side: 'right',
      level: 0,
      ...named('lens', mark(round, lens.diameterMm)),
    })
  }
  return sizes
}

/** A rectangle and a polygon by what lies along the drawing; a polygon may lie beside the axis. */
function ofFace(face: Lamp['face'], cut: Cut, named: (size: string) => Pick<SizeAcross, 'text' | 'short'>) {
  if (face.shape !== 'rectangle' && face.shape !== 'polygon')
    return { rMm: face.sizeMm / 2, ...named(faceSizeText(face)) }
  const [from, to] = faceSpan(face, cut)
  return { rMm: (to - from) / 2, middleMm: (from + to) / 2, ...named(lengthText(to - from)) }
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
