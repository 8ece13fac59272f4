// Text for the sun, from one direction and over a day.
import { temperatureText, untilHarm } from './words.ts'

export const untilPlastic = (seconds: number | null) =>
  seconds === null ? 'the spot stays too weak to light plastic' : `it lights plastic in ${untilHarm(seconds)}`
export const coverWords = (coverC: number) =>
  `Inside it is dark. A black cover itself gets to ${temperatureText(coverC)}: no plastic bag.`
