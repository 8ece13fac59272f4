// Quantities in a sentence, written in both systems of units: a rule or a report writes the sentence once, and whoever shows it picks the system.
// Own code, because message formatters (MessageFormat, Intl) choose by language, not by units, and bring a parser of their own.
import { fahrenheitText, feetText, inches, type Rounding, type UnitSystem } from './unitSystem.ts'

// Private-use characters, which no text on a lamp has a use for: before the metric words, between the two, after those in inches.
const FROM = '\uE000'
const OR = '\uE001'
const TO = '\uE002'
const BOTH = /\uE000([^\uE000-\uE002]*)\uE001([^\uE000-\uE002]*)\uE002/g

/** A piece of a sentence that reads differently in the two systems; neither piece may hold another. */
export const inEither = (metric: string, inch: string): string =>
  metric === inch ? metric : `${FROM}${metric}${OR}${inch}${TO}`

/** The sentence in one system. */
export const inSystem = (text: string, system: UnitSystem): string =>
  text.replace(BOTH, (_, metric: string, inch: string) => (system === 'inch' ? inch : metric))

/** Whether a text has quantities in both systems. */
export const hasBoth = (text: string): boolean => text.includes(FROM)

/** Every text in a structure of arrays and plain objects, in one system; everything else stays the same object. */
export function allInSystem<T>(value: T, system: UnitSystem): T {
  const visit = (v: unknown): unknown => {
    if (typeof v === 'string') return hasBoth(v) ? inSystem(v, system) : v
    if (Array.isArray(v)) return v.map(visit)
    if (v === null || typeof v !== 'object' || Object.getPrototypeOf(v) !== Object.prototype) return v
    return Object.fromEntries(Object.entries(v).map(([key, entry]) => [key, visit(entry)]))
  }
  return visit(value) as T
}

/** A size, mm, as its metric number has it, with the unit; in inches to so many decimals. */
export const sizeText = (metric: string, mm: number, decimals = 2, way: Rounding = 'nearest'): string =>
  inEither(`${metric} mm`, `${inches(mm, decimals, way)} in`)

/** The number alone, where the unit stands once for several. */
export const sizeNumber = (metric: string, mm: number, decimals = 2, way: Rounding = 'nearest'): string =>
  inEither(metric, inches(mm, decimals, way))

/** A distance, mm, as its metric words have it; in inches or feet. */
export const distanceText = (metric: string, mm: number, way: Rounding = 'nearest'): string =>
  inEither(metric, feetText(mm, way))

/** A temperature, °C, as its metric number has it. */
export const temperatureText = (metric: string, celsius: number, way: Rounding = 'nearest'): string =>
  inEither(`${metric} °C`, fahrenheitText(celsius, way))
