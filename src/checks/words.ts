// Number format of findings: three digits, always with the unit.
const three = (x: number): string => {
  const rounded = Number(x.toPrecision(3))
  return Math.abs(rounded) >= 10_000 ? rounded.toLocaleString('en-GB').replaceAll(',', ' ') : String(rounded)
}

/** Rounds up, for hazards. */
export const upThree = (x: number): string => {
  if (!(x > 0)) return three(x)
  const unit = 10 ** (Math.floor(Math.log10(x)) - 2)
  return three(Math.ceil(x / unit - 1e-9) * unit)
}

/** Sizes and positions of the lamp's own parts, always in mm, as in fields and drawings. */
export const mm = (x: number): string => `${Math.abs(x) >= 1000 ? Math.round(x) : three(x)} mm`
/** Distances in front of the lamp: in millimetres up to one metre, then in metres. */
export const ahead = (x: number): string => (Math.abs(x) >= 999.5 ? `${three(x / 1000)} m` : `${three(x)} mm`)
export const deg = (x: number): string => `${three(x)}°`
export const percent = (share: number): string => `${three(100 * share)} %`
export const candela = (cd: number): string => (cd >= 1e6 ? `${three(cd / 1e6)} Mcd` : `${three(cd)} cd`)
export const kWm2 = (x: number): string => `${upThree(x)} kW/m²`
export const kWm2Plain = (x: number): string => `${three(x)} kW/m²`
export const seconds = (s: number): string =>
  s < 1 ? 'less than a second' : s < 120 ? `${three(s)} s` : `${three(s / 60)} min`
export const amps = (a: number): string => `${three(a)} A`
/** A clear distance, rounded up. */
export const clear = (x: number): string => (x >= 1000 ? `${upThree(x / 1000)} m` : `${upThree(x)} mm`)
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`
export const plain = three

/** °C, rounded up. */
export const celsius = (c: number): string => `${Math.ceil(c)} °C`

/** Share of a limit that isn't reached, in whole per cent, rounded up, never 100. */
export const ofLimit = (share: number): string => `${Math.min(99, Math.ceil(100 * share))} %`

/** A name within a sentence: “acrylic (PMMA)”, “a hand”, but “PVC” as it is. */
export const inSentence = (name: string): string =>
  /^.[\p{Ll}\s]/u.test(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name
