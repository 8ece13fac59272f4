// Numbers and sentences of the section: millimetres, ± at 95 %, and the lamp told in words.

import type { Lamp } from '../../lamp/schema.ts'
import { T95 } from '../../num/stats.ts'
import type { HotSpot } from '../../run/figure.ts'
import { focusZMm, lensWords } from './sectionLens.ts'

export const roundMm = (mm: number) => Math.round(mm * 1e4) / 1e4

/** 1050 mm, 14.5 mm, 3.2 m. */
export function lengthText(mm: number): string {
  if (Math.abs(mm) >= 10_000) return `${trim(mm / 1000, 1)} m`
  return `${trim(mm, 1)} mm`
}

export const trim = (value: number, decimals: number) => String(Number(value.toFixed(decimals)))

/** Value and ± at 95 %, both to the last place that the ± leaves certain. */
export function withError(value: number, se: number): string {
  const half = T95 * se
  if (!(half > 0)) return significant(value, 3)
  // Two figures where the ± would begin with a 1, one elsewhere: common practice, no source.
  const lead = Math.floor(Math.log10(half))
  const decimals = Math.max(0, Math.min(6, (half / 10 ** lead < 1.95 ? 1 : 0) - lead))
  return `${value.toFixed(decimals)} ±${half.toFixed(decimals)}`
}

export function significant(value: number, figures: number): string {
  if (value === 0) return '0'
  const decimals = Math.max(0, figures - 1 - Math.floor(Math.log10(Math.abs(value))))
  return value.toFixed(Math.min(8, decimals))
}

const SPOT_NAMES = { lens: 'Lens', wall: 'Wall', face: 'Face', front: 'In front', sunInside: 'Sun inside' } as const
export type SpotName = keyof typeof SPOT_NAMES
export const SPOTS = Object.keys(SPOT_NAMES) as SpotName[]

export const spotText = (name: SpotName, spot: HotSpot) => `${SPOT_NAMES[name]} ${withError(spot.kWm2, spot.se)} kW/m²`

/** A distance outside the lamp, to three digits: 146 mm, 5.42 m. */
export function distanceText(mm: number): string {
  const three = Number(mm.toPrecision(3))
  return three < 1000 ? `${three} mm` : `${Number((mm / 1000).toPrecision(3))} m`
}

/** How far in front of the lamp's foremost part, for a spot that lies beyond the drawing. */
export const beyondText = (spot: HotSpot, frontZMm: number) => `${distanceText(spot.zMm - frontZMm)} from the lamp`

/** The section told to someone who can't see it. */
export function sectionStory(lamp: Lamp): string {
  const { face, tunnel, lens } = lamp
  const parts = [`${lamp.name}, cut along its axis, light going from left to right.`]
  parts.push(`Face ${lengthText(face.sizeMm)} across with ${lamp.boards.length} boards.`)
  if (tunnel) {
    parts.push(
      `Tunnel ${tunnel.sides === 0 ? 'round' : `of ${tunnel.sides} sides`}, from ${lengthText(tunnel.inMm)} at ${lengthText(tunnel.zInMm)} to ${lengthText(tunnel.outMm)} at ${lengthText(tunnel.zOutMm)} from the face.`,
    )
  } else parts.push('No tunnel.')
  if (lens) {
    const behind = focusZMm(lens)
    parts.push(
      `${lensWords(lens)}, ${lengthText(lens.diameterMm)}, at ${lengthText(lens.zMm)}; its focus lies ${lengthText(Math.abs(behind))} ${behind < 0 ? 'behind' : 'before'} the face.`,
    )
  } else parts.push('No lens.')
  return parts.join(' ')
}
