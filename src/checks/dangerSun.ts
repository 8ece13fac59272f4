// Findings of the sun falling in: on parts, in the air inside, beside and behind the lamp, thrown back before it, over a day, and into the
// bare lens.
import { upperKWm2 } from '../hazard/discs.ts'
import type { SunPlace } from '../hazard/sun.ts'
import type { SunMapPoint } from '../hazard/sunMap.ts'
import { elementsOf } from '../lamp/assembly.ts'
import type { Lamp } from '../lamp/schema.ts'
import { criticalAt, ignitionMaterial, ignitionSeconds } from '../library/ignition.ts'
import { frontWord, lensesOf } from '../library/lensSystem.ts'
import { type DangerParts, SCATTER } from './dangerParts.ts'
import type { Finding } from './finding.ts'
import { plasticLimits } from './plastic.ts'
import { counted, deg, kWm2, kWm2Plain, lasts, mm, seconds, tenthsUp } from './words.ts'

const WHERE = {
  board: 'on board',
  face: 'on the face',
  wall: 'on the wall',
  air: 'in the air inside',
  outside: 'beside it',
  front: 'before it',
} as const
const WORST_OF_SUN_KW_M2 = 2

const off = (tiltDeg: number): string => (tiltDeg === 0 ? 'on the axis' : `${deg(tiltDeg)} off the axis`)

/** The tilt map: only the worst place off the axis, since the beam sheet already covers the sun on the axis. */
export function sunFromASide(lamp: Lamp, { sunMap }: DangerParts): Finding[] {
  const aside = sunMap.filter((p) => p.tiltDeg > 0 && p.lands !== 'outside' && p.lands !== 'front')
  const worst = aside.reduce<SunMapPoint | null>((a, b) => (a && upperKWm2(a) >= upperKWm2(b) ? a : b), null)
  if (!worst || upperKWm2(worst) < WORST_OF_SUN_KW_M2) return []
  const plastic = plasticLimits(lamp.reading.ambientC)
  const hot = aside.filter((p) => upperKWm2(p) >= plastic.ignitesKWm2)
  const tilts = [...new Set(hot.map((p) => p.tiltDeg))]
  const boards = [...new Set(hot.flatMap((p) => (p.board ? [p.board] : [])))]
  return [
    {
      rule: 'sun-from-a-side',
      severity: hot.length > 0 ? 'severe' : 'warning',
      title: `The sun ${off(worst.tiltDeg)} throws up to ${kWm2(upperKWm2(worst))} ${WHERE[worst.lands]}${worst.board ? ` ${worst.board}` : ''}.${tilts.length > 0 ? ` It can light plastic up to ${deg(Math.max(...tilts))} off${boards.length > 0 ? `, on ${counted(boards.length, 'board')}` : ''}.` : ''}`,
      why: `Traced from every side. ${plastic.words} ${SCATTER}`,
      cure: 'An opaque cover whenever the lamp is off, whichever way it looks.',
      place: { kind: 'point', xMm: worst.xMm, yMm: worst.yMm, zMm: worst.zMm, on: 'inside' },
    },
  ]
}

const placeIn = (sunPlaces: readonly SunPlace[], zone: SunPlace['zone']) =>
  sunPlaces.find((p) => p.zone === zone && upperKWm2(p) >= WORST_OF_SUN_KW_M2)

/** Over smaller discs where those are clearly hotter: a small image is a hotter one. */
function smallerDiscs({ byDisc, kWm2: over }: Pick<SunPlace, 'byDisc' | 'kWm2'>): string {
  const hotter = byDisc.filter((d) => d.discMm < 10 && d.discMm >= 3 && d.kWm2 > 1.2 * over)
  return hotter.map((d) => `; over ${mm(d.discMm)} up to ${kWm2(upperKWm2(d))}`).join('')
}

/** A sentence: seconds in which it lights paper; empty where it doesn't. */
function lightsPaper(kWm2Upper: number, ambientC: number): string {
  const seconds_ = ignitionSeconds(ignitionMaterial('paper'), kWm2Upper, ambientC)
  return seconds_ === null ? '' : ` Paper there is alight in ${seconds(seconds_)}.`
}

const severityOf = (p: SunPlace, { reading }: Lamp) =>
  upperKWm2(p) >= criticalAt(ignitionMaterial('paper'), reading.ambientC) ? ('severe' as const) : ('warning' as const)

/** Light that comes in through the lens and goes past the face or out of a gap. */
export function sunBeside(lamp: Lamp, { sunPlaces }: DangerParts): Finding[] {
  const worst = placeIn(sunPlaces, 'outside')
  if (!worst) return []
  const beside = mm(Math.hypot(worst.xMm, worst.yMm))
  const where = worst.zMm < 0 ? `${mm(-worst.zMm)} behind the face` : `${mm(worst.zMm)} above the face’s plane`
  return [
    {
      rule: 'sun-beside',
      severity: severityOf(worst, lamp),
      title: `The sun ${off(worst.tiltDeg)} is focused outside the lamp: up to ${kWm2(upperKWm2(worst))}, ${beside} off its axis and ${where}.${lightsPaper(upperKWm2(worst), lamp.reading.ambientC)}`,
      why: `Followed to what stands within a metre. Over ${mm(worst.discMm)}, square to the light${smallerDiscs(worst)}. Direct sun of a very clear day. ${SCATTER}`,
      cure: `An opaque cover on the ${frontWord(lamp)} whenever the lamp is off; close the side and the gap at the face.`,
      place: { kind: 'point', xMm: worst.xMm, yMm: worst.yMm, zMm: worst.zMm, on: 'inside' },
    },
  ]
}

/** Light that the lens's own surfaces, or the lamp inside, throw back before it. */
export function sunThrownBack(lamp: Lamp, { sunPlaces }: DangerParts): Finding[] {
  const worst = placeIn(sunPlaces, 'front')
  if (!worst) return []
  const ahead = mm(worst.zMm - (elementsOf(lamp).at(-1)?.zMm ?? lamp.tunnel?.zOutMm ?? 0))
  return [
    {
      rule: 'sun-thrown-back',
      severity: severityOf(worst, lamp),
      title: `The ${lensesOf(lamp).length > 0 ? 'lens' : 'lamp'} throws sunlight back (sun ${off(worst.tiltDeg)}): up to ${kWm2(upperKWm2(worst))}, ${ahead} before it.${lightsPaper(upperKWm2(worst), lamp.reading.ambientC)}`,
      why: `${elementsOf(lamp).length > 0 ? 'A few hundredths are reflected at each surface, and grooves focus them' : 'Walls, boards and face send it out again by the mouth'}. Over ${mm(worst.discMm)}, square to the light${smallerDiscs(worst)}. Direct sun of a very clear day. ${SCATTER}`,
      cure: 'Keep it covered; lay nothing that burns before it where the sun can reach it.',
      place: { kind: 'point', xMm: worst.xMm, yMm: worst.yMm, zMm: worst.zMm, on: 'front' },
    },
  ]
}

/** The lens as it was laid, and as it might be turned by whoever moves it: some way of lying meets the sun at its worst. */
export function sunOverTheDay(lamp: Lamp, { sunDay }: DangerParts): Finding[] {
  if (!sunDay) return []
  const { worst, turned, place } = sunDay
  const { plasticSeconds } = sunDay
  const laid = worst && plasticSeconds !== null ? { ...worst, plasticSeconds } : null
  const lit = turned?.plasticSeconds ?? null
  if (!laid && lit === null) return []
  const stays = sunDay.staysSeconds
  const burns = laid && stays !== null && laid.plasticSeconds < stays
  const day = `Left lying at latitude ${deg(place.latitudeDeg)}, ${frontWord(lamp)} ${deg(place.lensUpDeg)} up`
  const title = laid
    ? `${day}, the sun lights plastic inside for ${tenthsUp(sunDay.hoursOverPlastic)} h of the day. At the worst it takes ${seconds(laid.plasticSeconds)}.`
    : `${day}, the sun’s spot stays too weak to light plastic inside.`
  const otherwise =
    turned && lit !== null
      ? ` Turned so that the sun passes ${off(turned.tiltDeg)}, it lights plastic in ${seconds(lit)}: up to ${kWm2(turned.kWm2)}.`
      : ''
  const isWorseTurned =
    !laid || (lit !== null && lit < laid.plasticSeconds && seconds(lit) !== seconds(laid.plasticSeconds))
  const at = laid ?? { xMm: 0, yMm: 0, zMm: 0 }
  return [
    {
      rule: 'sun-over-the-day',
      severity: laid ? 'severe' : 'warning',
      title: `${title}${isWorseTurned ? otherwise : ''}`,
      why: `${isWorseTurned || otherwise === '' ? '' : `${otherwise.trimStart()} `}${laid && stays !== null ? `The spot stays on one place for ${lasts(stays)}${burns ? ', longer than that' : ''}. ` : ''}${laid ? `Clear sky: ${kWm2Plain(laid.sunWm2 / 1000)} of direct sun at that hour. ` : ''}${SCATTER}`,
      cure: `Lay it ${frontWord(lamp)} down, or cover it. A cover that is black gets hot itself: no plastic bag.`,
      place: { kind: 'point', xMm: at.xMm, yMm: at.yMm, zMm: at.zMm, on: 'inside' },
    },
  ]
}

export function bareLensBurns({ reading }: Lamp, { bareLens }: DangerParts): Finding[] {
  if (!bareLens) return []
  const paper = ignitionMaterial('paper')
  const lightsKWm2 = criticalAt(paper, reading.ambientC)
  if (bareLens.kWm2 < lightsKWm2) return []
  return [
    {
      rule: 'bare-lens',
      severity: 'severe',
      title: `The lens alone in the sun lights paper ${mm(bareLens.focusMm)} behind it: up to ${kWm2(bareLens.kWm2)}.${bareLens.before && bareLens.before.kWm2 >= lightsKWm2 ? ` It throws back up to ${kWm2(bareLens.before.kWm2)}, ${mm(bareLens.before.distanceMm)} before it.` : ''}`,
      why: `Averaged over ${mm(bareLens.discMm)}; the sun’s image is ${mm(bareLens.sunImageMm)} across and wanders ${mm(bareLens.mmPerMinute)} a minute. ${paper.source}.`,
      cure: 'Keep the lens wrapped until it is built in, also indoors by a window.',
      place: { kind: 'part', part: 'lens' },
    },
  ]
}
