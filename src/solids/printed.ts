// What a printed part is: pieces, each with how many of it are wanted, and what its builder must know.
import { temperatureText } from '../num/quantity.ts'
import type { Solid } from './shape.ts'

export interface PrintedPiece {
  name: string
  count: number
  /** z up; it is put on the bed afterwards. */
  solid: Solid
}

export type Printed =
  | { ok: true; pieces: PrintedPiece[]; notes: string[] }
  /** `needed`: false where the lamp has no use for it. */
  | { ok: false; why: string; needed: boolean }

export const cannot = (why: string): Printed => ({ ok: false, why, needed: true })
export const noNeed = (why: string): Printed => ({ ok: false, why, needed: false })

/** Glass transition, memory: PLA 55 to 60 °C, PETG 70 to 80 °C, ABS about 105 °C. */
export const SOFTENS = `Printed plastic softens near heat, PLA from about ${temperatureText('55', 55)}, PETG from about ${temperatureText('70', 70)}, and burns. Check the temperatures of what it touches, and what light and sun may do to it, before the lamp is switched on.`
