// The builder's own units: what stands on the screen. A document is metric whatever is chosen here.
import { fahrenheit, M_PER_FOOT, M_PER_MILE, MM_PER_INCH, type UnitSystem } from '../../num/unitSystem.ts'

export { fahrenheit, M_PER_FOOT, M_PER_MILE, MM_PER_INCH, type UnitSystem }

/** Of the document's values. */
export type Unit =
  | ''
  | 'share'
  | 'mm'
  | 'm'
  | 'nm'
  | 'deg'
  | 'lm'
  | 'A'
  | 'V'
  | '°C'
  | 'K/W'
  | 'J/K'
  | 'W'
  | 'W/m²'
  | 'lx'
  | 'EV'
  | SupplyUnit
type SupplyUnit = 's' | 'min' | 'kg' | 'cd' | 'Ah' | 'mΩ' | 'm/s' | 'mm²' | 'g' | 'Hz' | '%' | 'kg/m³'

export interface ShownUnit {
  /** As it is typed and read. */
  word: string
  toShown(value: number): number
  toDocument(shown: number): number
  /** So many more decimals keep the precision of the document's own unit. */
  moreDigits: number
}

const scaled = (word: string, size: number, moreDigits: number): ShownUnit => ({
  word,
  toShown: (value) => value / size,
  toDocument: (shown) => shown * size,
  moreDigits,
})

const INCH: Partial<Record<Unit, ShownUnit>> = {
  mm: scaled('in', MM_PER_INCH, 2),
  m: scaled('ft', M_PER_FOOT, 1),
  '°C': { word: '°F', toShown: fahrenheit, toDocument: (f) => ((f - 32) * 5) / 9, moreDigits: 0 },
}

const same = (value: number) => value

/** How values of a document's unit are shown. */
export const shownUnit = (unit: Unit, system: UnitSystem): ShownUnit =>
  (system === 'inch' && INCH[unit]) || { word: unit, toShown: same, toDocument: same, moreDigits: 0 }

/** A step of a field, in its shown unit: the nearest 1, 2 or 5 times a power of ten, where the unit is not the document's own. */
export function shownStep(step: number, unit: Unit, system: UnitSystem): number {
  const { toShown } = shownUnit(unit, system)
  const size = Math.abs(toShown(step) - toShown(0))
  if (size === step) return step
  const decade = 10 ** Math.floor(Math.log10(size))
  const apart = (s: number) => Math.abs(Math.log(s / size))
  const best = [1, 2, 5, 10].map((n) => n * decade).reduce((a, b) => (apart(b) < apart(a) ? b : a))
  return Number(best.toPrecision(3))
}

/** How far an arrow key moves a part, mm, that moves it by `mm` in millimetres: by 0.005, 0.05 or 0.5 in for 0.1, 1 or 10 mm. */
export const arrowStepMm = (mm: number, system: UnitSystem): number =>
  shownUnit('mm', system).toDocument(shownStep(mm, 'mm', system))
