// Temperatures at which touching a hot surface burns, by what it is made of and how long the contact lasts. ISO 13732-1:2006, as it took
// them from EN 563:1994: values from memory, except 48 °C for 10 min (open texts, second-hand). Where the standard gives a band, its lower end.

export type TouchedSurface = 'metal' | 'glass' | 'plastic'

export const CONTACTS = [
  { seconds: 1, words: 'a second or less' },
  { seconds: 10, words: 'ten seconds' },
  { seconds: 60, words: 'a minute' },
  { seconds: 600, words: 'ten minutes' },
  { seconds: 28_800, words: 'eight hours' },
] as const

/** °C for each of `CONTACTS`: bare smooth metal; ceramics, glass and stone; plastics. */
const BURNS_FROM_C: Record<TouchedSurface, readonly number[]> = {
  metal: [65, 55, 51, 48, 43],
  glass: [80, 66, 56, 48, 43],
  plastic: [85, 71, 60, 48, 43],
}

export const CONTACT_SOURCE = 'ISO 13732-1:2006, the lower ends of its bands: from memory, 48 °C for 10 min second-hand'

/** “65 °C for 1 s, 55 °C for 10 s, …”. */
export const contactWords = (surface: TouchedSurface): string => {
  const times = ['1 s', '10 s', '1 min', '10 min', '8 h']
  return BURNS_FROM_C[surface].map((c, i) => `${c} °C for ${times[i]}`).join(', ')
}

/** °C from which the contact of that place in `CONTACTS` burns; infinite beyond the list. Source: `CONTACT_SOURCE`. */
export const touchBurnsFromC = (surface: TouchedSurface, contact: number): number =>
  BURNS_FROM_C[surface][contact] ?? Number.POSITIVE_INFINITY

/**
 * The shortest contact that burns at a surface temperature (°C): seconds and words; null under 43 °C, where no contact
 * does. Source: `CONTACT_SOURCE`.
 */
export function burningContact(surface: TouchedSurface, celsius: number): (typeof CONTACTS)[number] | null {
  return CONTACTS.find((_, i) => celsius >= touchBurnsFromC(surface, i)) ?? null
}
