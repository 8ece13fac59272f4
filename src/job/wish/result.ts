// What a search from a wish comes to: whole lamps side by side, and kinds that can't do it, each with what stands against it.
import type { Lamp } from '../../lamp/schema.ts'
import type { Figure } from '../../run/figure.ts'
import type { SweptName } from '../sweep/figures.ts'
import type { KindId } from './kinds.ts'

/** A severe finding. */
export interface SevereFinding {
  rule: string
  title: string
}

export interface Proposal {
  kind: KindId
  name: string
  lamp: Lamp
  figures: Partial<Record<SweptName, Figure>>
  rays: number
  lengthMm: number
  widthMm: number
  /** Head and supply, of what has a mass in the parts list, and of typical fans. */
  massG: number
  headG: number
  supplyG: number
  fans: { count: number; sizeMm: number } | null
  boards: number
  emitters: number
  currentA: number
  drivers: number
  cells: number
  /** All that is bought or made, wire and compound apart. */
  pieces: number
  /** Into the drivers at full light, at switch-on. */
  inputW: number
  /** Full light, until it steps down or ends; null: without end. */
  fullMinutes: number | null
  /** The hottest within the minutes that were wished for. */
  junctionC: number
  /** Only what no lamp of its kind can give the light without: the sun in a lens, where one small enough to be safe gives too little. */
  severe: readonly SevereFinding[]
  /** What of the wish it doesn't keep. */
  misses: readonly Miss[]
}

export interface Miss {
  what: 'light' | 'minutes' | 'lengthMm' | 'widthMm' | 'massG'
  wished: number
  has: number
}

export interface Declined {
  kind: KindId
  name: string
  /**
   * light: within the wish's limits this kind gives `most` at best (cd, or lux where lux was wished). heat: no cooling that fits holds the junctions.
   * fit: its smallest is too large. pack: the pack at hand gives too little power for so long. danger: every lamp that was tried has a severe finding
   * that isn't of its kind, those of the best in `severe`.
   */
  because: 'light' | 'heat' | 'fit' | 'pack' | 'danger'
  most: number | null
  severe?: readonly SevereFinding[]
}

export type KindOutcome = { ok: true; proposal: Proposal } | { ok: false; declined: Declined }
