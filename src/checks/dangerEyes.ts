// Findings about eyes: how far to keep away, the risk group by screening, aircraft and traffic, flicker.
import { type EyeSheet, leadOf } from '../hazard/eyeSheet.ts'
import type { Lamp } from '../lamp/schema.ts'
import { flickerWords, groupSentence, leadTime } from './eyeWords.ts'
import type { Finding } from './finding.ts'
import { candela, clear, deg, standardMm } from './words.ts'

interface EyeParts {
  eye: EyeSheet | null
}

export const DANGER_EYES: readonly ((lamp: Lamp, parts: EyeParts) => Finding[])[] = [
  eyeHarmed,
  trafficDazzled,
  flickers,
]

const SCREENING = 'IEC 62471:2006 quantities, by screening: a classification belongs to a laboratory.'

function eyeHarmed(_: Lamp, { eye }: EyeParts): Finding[] {
  if (!eye) return []
  const [all, ...aside] = eye.distances
  const lead = leadOf(all)
  const { blink, tenSeconds } = all.metres
  if (lead.metres === 0 && eye.risk.at200.group === 'exempt') return []
  const harms = [
    ...(blink > 0 ? [`in a blink nearer than ${clear(1000 * blink)}`] : []),
    ...(tenSeconds > 0 ? [`in 10 s nearer than ${clear(1000 * tenSeconds)}`] : []),
  ]
  const passer = aside.find((a) => a.metres.tenSeconds > 0)
  const away =
    lead.metres > 0
      ? `keep ${clear(1000 * lead.metres)} away: ${leadTime(lead)}`
      : `nearer than ${standardMm(200)} too bright`
  return [
    {
      rule: 'eye',
      severity: blink > 0 || tenSeconds > 2 ? 'severe' : tenSeconds > 0 ? 'warning' : 'note',
      title: `Eyes: ${away}.${harms.length > 0 ? ` Looking in harms ${harms.join(', ')}.` : ''}${passer ? ` ${deg(passer.angleDeg)} or more off the axis it harms in 10 s nearer than ${clear(1000 * passer.metres.tenSeconds)}.` : ''}`,
      why: `${groupSentence(eye.risk)}. ${SCREENING} Blue light: 10⁶ J/m²sr; retinal heat: 50 000/(α t^¼). The hot side wherever an input is uncertain.`,
      cure: 'Never look in, least of all through field glasses. Shield the side that people pass on, and warn before you switch on.',
      place: { kind: 'part', part: 'lens' },
    },
  ]
}

/** From here on a light is a high-intensity light in navigable airspace: SAE ARP5560 (2008), second-hand. */
const HIGH_INTENSITY_CD = 250_000

function trafficDazzled(_: Lamp, { eye }: EyeParts): Finding[] {
  if (!eye || eye.interference.peakCd < HIGH_INTENSITY_CD) return []
  const { peakCd, levels } = eye.interference
  const each = levels.map((l) => `${l.name.toLowerCase()} to ${clear(1000 * l.metres)}`)
  return [
    {
      rule: 'eye-traffic',
      severity: 'warning',
      title: `Drivers, boats and aircraft: ${each.join(', ')}.`,
      why: `Up to ${candela(peakCd)}, against 100 µW/cm², 5 µW/cm² and 50 nW/cm² of light as the eye weighs it (FAA AC 70-1, made for lasers: a guide), inverse square, clear air. From 250 000 cd on a light counts as a high-intensity light in airspace (SAE ARP5560).`,
      cure: 'Point it at nothing that moves, and ask the air authority before you point it up near an airfield.',
      place: { kind: 'part', part: 'lens' },
    },
  ]
}

function flickers(_: Lamp, { eye }: EyeParts): Finding[] {
  const found = (eye?.flicker ?? []).filter(
    (f) => f.verdict === 'beyond low risk' || f.verdict === 'frequency not stated',
  )
  return found.map((f) => ({
    rule: 'flicker',
    severity: f.verdict === 'beyond low risk' ? ('warning' as const) : ('note' as const),
    title: `Flicker: ${flickerWords(f)}.`,
    why: 'Low flicker can bring on headaches and, in few people, seizures, and makes turning machines seem to stand still.',
    cure:
      f.hz === null
        ? 'State the frequency of its pulses in the document.'
        : 'Pulses above 1250 Hz, or above 3000 Hz for no effect; or dim by current.',
    place: { kind: 'part', part: 'optics' } as const,
  }))
}
