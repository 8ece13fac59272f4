// Findings on things in the light and hands on the lens: part of the danger sheet (danger.ts).
import { layersOf, type ThingReading } from '../hazard/inTheWay.ts'
import { elementsOf, mappedIndex } from '../lamp/assembly.ts'
import type { Lamp } from '../lamp/schema.ts'
import { elementWords, frontWord } from '../library/lensSystem.ts'
import { burnSeconds, SKIN } from '../library/skin.ts'
import { DANGER_LENS, heatedPieces } from './dangerLens.ts'
import { type DangerParts, SCATTER } from './dangerParts.ts'
import type { Finding } from './finding.ts'
import { celsius, clear, counted, degreesC, harmWords, inSentence, kWm2, kWm2Plain, ofLimit, seconds } from './words.ts'

const place = { kind: 'part', part: 'lens' } as const

/** A thing that comes to harm. */
type Harmed = ThingReading & { secondsToHarm: number }
const isHarmed = (t: ThingReading): t is Harmed => t.secondsToHarm !== null

/** Ignition, or a skin burn faster than the reflex to withdraw. */
const isSevereHarm = (t: Harmed): boolean =>
  t.secondsToIgnite !== null ||
  t.harm === 'catches fire' ||
  t.harm === 'chars and glows' ||
  (t.harm === 'hurts' && t.secondsToHarm < 10)

const isSkinOnLens = (t: ThingReading): boolean => t.material === 'skin' && t.distanceMm <= 5

/** One finding for all materials, named after the fastest of the severe ones, and the first that burns. */
function inTheWay(_: Lamp, { things, clear: table }: DangerParts): Finding[] {
  const harmed = things
    .filter(isHarmed)
    .filter((t) => !isSkinOnLens(t))
    .sort((a, b) => Number(isSevereHarm(b)) - Number(isSevereHarm(a)) || a.secondsToHarm - b.secondsToHarm)
  const [first] = harmed
  if (!first) return []
  const says = (t: Harmed) => `${t.name} ${harmWords(t.harm)} in ${seconds(t.secondsToHarm)}`
  const burns = harmed.slice(1).find((t) => t.harm === 'catches fire' || t.harm === 'chars and glows')
  const rest = harmed.filter((t) => t !== first && t !== burns)
  const source = table.find((t) => t.id === first.material)?.source ?? ''
  return [
    {
      rule: 'in-the-way',
      severity: harmed.some(isSevereHarm) ? 'severe' : 'warning',
      title: `${says(first)}, at up to ${kWm2(first.kWm2)}.${burns ? ` ${says(burns)}.` : ''}${rest.length > 0 ? ` ${counted(rest.length, 'more thing comes', 'more things come')} to harm.` : ''}`,
      why: `${rest.map((t) => `${says(t)}. `).join('')}${source}. Times leave out the heat that is lost meanwhile. ${SCATTER}`,
      cure: 'Take the cover off before you switch on, fix it so that it can’t be left on by mistake, and keep bags, hands and walls out of the beam.',
      place,
    },
  ]
}

function handOnLens(lamp: Lamp, { things }: DangerParts): Finding[] {
  const onLens = things.filter(isHarmed).filter(isSkinOnLens)
  const worst = onLens.reduce<Harmed | null>((a, b) => (a && a.kWm2 >= b.kWm2 ? a : b), null)
  if (!worst) return []
  const burnS = burnSeconds(worst.kWm2)
  return [
    {
      rule: 'hand-on-lens',
      severity: worst.secondsToHarm < 10 ? 'severe' : 'warning',
      title: `A hand on the lit ${frontWord(lamp)} hurts in ${seconds(worst.secondsToHarm)}${burnS === null ? '' : ` and is burnt in ${seconds(burnS)}`}, at up to ${kWm2(worst.kWm2)}.`,
      why: `The light alone, taken in whole; a hot ${frontWord(lamp)} adds to it. ${SKIN.source}. ${SCATTER}`,
      cure: `A guard or hood that keeps hands off the ${frontWord(lamp)}; switch off before you clean or turn it.`,
      place,
    },
  ]
}

/** The distance that the lamp standard wants marked on a lamp: to what is lit and can burn. */
function litSurfaces(_: Lamp, { things, clear: table }: DangerParts): Finding[] {
  const surface = table.find((t) => t.id === 'lit-surface')
  if (!surface || !(surface.clearDistanceMm > 0)) return []
  const over = things.flatMap((t) =>
    t.secondsTo90C === null ? [] : [`${inSentence(t.name)} in ${seconds(t.secondsTo90C)}`],
  )
  return [
    {
      rule: 'lit-surfaces',
      severity: 'warning',
      title: `Wood, walls, curtains and whatever else can burn get over the lamp standard’s ${degreesC(90)} nearer than ${clear(surface.clearDistanceMm)}${over.length > 0 ? `: ${over.join(', ')}` : ''}.`,
      why: `${surface.source}. A limit for lamps that stay lit, far below what ignites at once. Local codes come first.`,
      cure: `Mark the lamp with this least distance to what it lights, and keep it.`,
      place: { kind: 'part', part: 'target' },
    },
  ]
}

/** Ignition and burn figures scatter by ± 30 % and more: from here on a limit may be reached (our choice). */
const NEAR = 0.7

/** What stays below its limit by less than the limits are known to. */
function nearLimit(_: Lamp, { things, clear: table }: DangerParts): Finding[] {
  const isNear = (share: number) => share >= NEAR && share < 1
  const near = [
    ...things
      .filter((t) => t.secondsToHarm === null && isNear(t.shareOfLimit))
      .map((t) => ({
        share: t.shareOfLimit,
        words: `${inSentence(t.name)} (${limitWords(t.harm, t.limitKWm2)})`,
      })),
    ...table
      .filter((t) => isNear(t.shareAtWorst))
      .map((t) => ({
        share: t.shareAtWorst,
        words: `${inSentence(t.name)} at the worst place (${limitWords(t.harm, t.kWm2)})`,
      })),
  ].sort((a, b) => b.share - a.share)
  if (near.length === 0) return []
  return [
    {
      rule: 'near-limit',
      severity: 'warning',
      title: `Close to harm: ${near.map((n) => `${ofLimit(n.share)} of the limit for ${n.words}`).join('; ')}.`,
      why: `Not reached by the figures, but these are known to ± 30 % at best: take them as reached. ${SCATTER}`,
      cure: 'Keep clear as if it were reached, or take light away.',
      place,
    },
  ]
}

const limitWords = (harm: ThingReading['harm'], limitKWm2: number): string =>
  `${harmWords(harm)} from ${kWm2Plain(limitKWm2)}`

/**
 * What lies on the front heats the piece under it, whatever it does to itself: the foremost one; where that bears it or is of no limit, the
 * one that the map of the lens is of is judged by the same heat (the hot side).
 */
function coverTrapsHeat(lamp: Lamp, danger: DangerParts): Finding[] {
  const pieces = heatedPieces(lamp, danger)
  const [foremost, mapped] = [elementsOf(lamp).length - 1, mappedIndex(elementsOf(lamp))]
  const worst = danger.things.reduce<ThingReading | null>(
    (a, t) => (t.lensBehindC !== null && t.lensBehindC > (a?.lensBehindC ?? Number.NEGATIVE_INFINITY) ? t : a),
    null,
  )
  const worstC = worst?.lensBehindC ?? Number.NEGATIVE_INFINITY
  const under = [foremost, mapped]
    .map((index) => pieces.find((p) => p.index === index))
    .find((p) => p?.heat && p.heat.keepBelowC !== null && worstC > p.heat.keepBelowC)
  if (!worst || !under?.heat) return []
  const { of, heat } = under
  const sags = heat.deflectionC !== null && worstC > heat.deflectionC
  return [
    {
      rule: 'cover-traps-heat',
      severity: sags ? 'severe' : 'warning',
      title: `${worst.name} heats ${elementWords(of)} under it to ${celsius(worstC)}. ${of.isLens ? 'The lens' : 'It'} should stay below ${degreesC(heat.keepBelowC ?? 0)}.`,
      why: `What lies on it gets to ${celsius(worst.settlesC ?? worstC)}. It takes in all of its light and loses heat on the outer side alone${layersOf(worst) === 2 ? ', through a second fold' : ''}; its own radiation then heats what is under it. Heat balance at up to ${kWm2(worst.kWm2)}. ${heat.source}`,
      cure: `A cover that stands off the ${frontWord(lamp)} and is vented, of metal, with a switch that keeps the light off while it is on.`,
      place,
    },
  ]
}

export const DANGER_THINGS: readonly ((lamp: Lamp, parts: DangerParts) => Finding[])[] = [
  inTheWay,
  handOnLens,
  litSurfaces,
  nearLimit,
  coverTrapsHeat,
  ...DANGER_LENS,
]
