// What fits the printer: pieces lie as they are printed, x and y may change places.
import type { FullWorkshop } from '../library/typicalWorkshop.ts'
import { sizeText } from '../num/quantity.ts'
import { type Mesh, meshBox } from './mesh.ts'

export type Printer = FullWorkshop['printer']

/** Rounding of single precision over a bed, mm. */
const SLACK_MM = 1e-3

/** Null where it fits; else why not. */
export function bedRefusal(mesh: Mesh, printer: Printer, what: string): string | null {
  const { from, to } = meshBox(mesh)
  const [x, y, z] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]]
  if (z > printer.bedZMm + SLACK_MM) return `${what} is ${mm(z)} high; the printer reaches ${mm(printer.bedZMm)}.`
  if (fitsBed(x - SLACK_MM, y - SLACK_MM, printer)) return null
  return `${what} is ${mm(x)} × ${mm(y)}; the bed is ${mm(printer.bedXMm)} × ${mm(printer.bedYMm)}.`
}

export const fitsBed = (xMm: number, yMm: number, { bedXMm, bedYMm }: Pick<Printer, 'bedXMm' | 'bedYMm'>): boolean =>
  (xMm <= bedXMm && yMm <= bedYMm) || (xMm <= bedYMm && yMm <= bedXMm)

/** As a builder reads it, in both systems of units: tenths of a millimetre. */
export const mm = (value: number): string => sizeText(String(Math.round(10 * value) / 10), value)
/** The least that will do: rounded up. */
export const mmAtLeast = (value: number): string => sizeText(String(Math.ceil(10 * value - 1e-9) / 10), value, 2, 'up')
