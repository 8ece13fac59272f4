// Number format of findings: three digits, always with the unit; lengths, temperatures and masses in both systems of units.
import { distanceText, inEither, sizeNumber, sizeText, temperatureText } from '../num/quantity.ts'
import { roundedDown, roundedUp } from '../num/sided.ts'
import { fahrenheitApart, inches, poundsText, squareInches } from '../num/unitSystem.ts'

const three = (x: number): string => {
  const rounded = Number(x.toPrecision(3))
  return Math.abs(rounded) >= 10_000 ? rounded.toLocaleString('en-GB').replaceAll(',', ' ') : String(rounded)
}

/** Rounds up: for hazards, and for what is needed “at least”. */
export const upThree = (x: number): string => three(roundedUp(x))
/** Rounds down: for what is borne, and for what is allowed “at most”. */
export const downThree = (x: number): string => three(roundedDown(x))

/** Tenths, rounded up. */
export const tenthsUp = (x: number): string => (Math.ceil(10 * x - 1e-9) / 10).toFixed(1)

const mmDigits = (x: number): string => (Math.abs(x) >= 1000 ? String(Math.round(x)) : three(x))
/** Three digits, from a metre on whole millimetres, to the safe side. */
const sidedMm = (x: number, by: (x: number, digits: number) => number): string =>
  String(by(x, Math.max(3, Math.floor(Math.log10(Math.abs(x) || 1) + 1e-12) + 1)))
/** Sizes and positions of the lamp's own parts: mm or inches, as in fields and drawings. */
export const mm = (x: number): string => sizeText(mmDigits(x), x)
/** The least that will do, rounded up. */
export const mmAtLeast = (x: number): string => sizeText(sidedMm(x, roundedUp), x, 2, 'up')
/** The most that is there or allowed, rounded down. */
export const mmAtMost = (x: number): string => sizeText(sidedMm(x, roundedDown), x, 2, 'down')
/** The number alone, where the unit stands once for several. */
export const mmNumber = (x: number): string => sizeNumber(mmDigits(x), x)
/** Distances in front of the lamp: in millimetres up to one metre, then in metres. */
export const ahead = (x: number): string =>
  distanceText(Math.abs(x) >= 999.5 ? `${three(x / 1000)} m` : `${three(x)} mm`, x)
export const deg = (x: number): string => `${three(x)}°`
export const degUp = (x: number): string => `${upThree(x)}°`
export const percent = (share: number): string => `${three(100 * share)} %`
export const percentUp = (share: number): string => `${upThree(100 * share)} %`
export const percentDown = (share: number): string => `${downThree(100 * share)} %`
export const candela = (cd: number): string => (cd >= 1e6 ? `${three(cd / 1e6)} Mcd` : `${three(cd)} cd`)
export const kWm2 = (x: number): string => `${upThree(x)} kW/m²`
export const kWm2Plain = (x: number): string => `${three(x)} kW/m²`
/** A time until something happens, rounded down. */
export const seconds = (s: number): string =>
  s < 1 ? 'less than a second' : s < 120 ? `${downThree(s)} s` : `${downThree(s / 60)} min`
/** A time that something lasts, rounded up. */
export const lasts = (s: number): string => (s < 120 ? `${upThree(s)} s` : `${upThree(s / 60)} min`)
/** A current that flows or is needed, rounded up. */
export const amps = (a: number): string => `${upThree(a)} A`
/** A current that something bears or gives at most, rounded down. */
export const ampsAtMost = (a: number): string => `${downThree(a)} A`
/** A clear distance, rounded up. */
export const clear = (x: number): string =>
  distanceText(x >= 1000 ? `${upThree(x / 1000)} m` : `${upThree(x)} mm`, x, 'up')
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`
export const plain = three

/** A temperature that is reached, in whole degrees, rounded up. */
export const celsius = (c: number): string => temperatureText(String(Math.ceil(c)), Math.ceil(c), 'up')
/** A temperature at which something is late, in whole degrees, rounded down. */
export const celsiusDown = (c: number): string => temperatureText(String(Math.floor(c)), Math.floor(c), 'down')
/** A temperature as it was entered, or as a source states it. */
export const degreesC = (c: number): string => temperatureText(three(c).replace('-', '−'), c)
/** How much hotter, in whole degrees, rounded up. */
export const hotterBy = (kelvin: number, unit: 'K' | '°C' = 'K'): string =>
  inEither(`${Math.ceil(kelvin)} ${unit}`, fahrenheitApart(Math.ceil(kelvin)))
/** A difference of temperatures. */
export const apart = (kelvin: number): string => inEither(`${three(kelvin)} K`, fahrenheitApart(kelvin))
export const mass = (kg: number): string => inEither(`${three(kg)} kg`, poundsText(kg))
/** A mass that harms, rounded up. */
export const massUp = (kg: number): string => inEither(`${upThree(kg)} kg`, poundsText(kg, 'up'))
export const gramsUp = (g: number): string => inEither(`${upThree(g)} g`, poundsText(g / 1000, 'up'))
export const area = (mm2: number): string => inEither(`${three(mm2)} mm²`, squareInches(mm2))
/** A surface, cm², rounded up. */
export const surfaceUp = (cm2: number): string => inEither(`${upThree(cm2)} cm²`, squareInches(100 * cm2, 'up'))
/** What happens at a limit, with the temperature that it may name. */
export const harmWords = (harm: string): string => harm.replace('90 °C', degreesC(90))
/** A distance that a standard names. */
export const standardMm = (x: number): string => inEither(`${x} mm`, `${x} mm (${inches(x, 1)} in)`)

/** Share of a limit that isn't reached, in whole per cent, rounded up, never 100. */
export const ofLimit = (share: number): string => `${Math.min(99, Math.ceil(100 * share))} %`

/** A name within a sentence: “acrylic (PMMA)”, “a hand”, but “PVC” as it is. */
export const inSentence = (name: string): string =>
  /^.[\p{Ll}\s]/u.test(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name
