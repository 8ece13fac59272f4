// Findings on lens, covers and films: hot to touch, dripping when alight. Part of the danger sheet (danger.ts).
import { lensKg } from '../hazard/lensMass.ts'
import { elementsOf, labelOf, mappedIndex, type RowElement } from '../lamp/assembly.ts'
import type { Lamp } from '../lamp/schema.ts'
import { burningContact, CONTACT_SOURCE, contactWords } from '../library/contactBurns.ts'
import { criticalAt } from '../library/ignition.ts'
import { materialOfPiece } from '../library/lensMaterial.ts'
import { elementWords } from '../library/lensSystem.ts'
import type { HotSpot } from '../run/figure.ts'
import type { DangerParts } from './dangerParts.ts'
import type { Finding, Place } from './finding.ts'
import { celsius, kWm2Plain, mass, plain } from './words.ts'

/** Each element of a material, and what light and face do to it. */
export function heatedPieces(lamp: Lamp, { parts }: DangerParts) {
  const all = elementsOf(lamp)
  const mapped = mappedIndex(all)
  return all.flatMap((of, i) => {
    const material = materialOfPiece(of)
    if (!material) return []
    const heat = i === mapped ? parts.lens : (parts.elements.find((e) => e.index === i) ?? null)
    return [{ index: i, of, material, heat, place: placeOf(of, i === mapped, heat?.spot ?? null) }]
  })
}

const placeOf = (piece: RowElement, isMapped: boolean, spot: HotSpot | null): Place => {
  const of = labelOf(piece)
  if (isMapped || !spot) return { kind: 'part', part: 'lens', of }
  return { kind: 'point', xMm: spot.xMm, yMm: spot.yMm, zMm: spot.zMm, on: 'lens', of }
}

const lensHotToTouch = (lamp: Lamp, parts: DangerParts): Finding[] =>
  heatedPieces(lamp, parts).flatMap(({ of, material, heat, place }) => {
    if (!heat) return []
    const surface = material.family
    const who = of.isLens ? 'lens' : elementWords(of)
    const clean = burningContact(surface, heat.cleanC)
    const dirty = burningContact(surface, heat.dirtyC)
    const contact = clean ?? dirty
    if (!contact) return []
    return [
      {
        rule: 'lens-hot-to-touch',
        severity: clean ? (clean.seconds <= 10 ? 'severe' : clean.seconds <= 600 ? 'warning' : 'note') : 'note',
        title: clean
          ? `The clean ${who} gets to ${celsius(heat.cleanC)}: a touch of ${clean.words} burns.`
          : `Dirt on ${elementWords(of)} gets to ${celsius(heat.dirtyC)}: there a touch of ${contact.words} burns.`,
        why: `Burn thresholds for ${surface}: ${contactWords(surface)} (${CONTACT_SOURCE}). The hottest place, steady; light absorbed by the skin is not included.`,
        cure: 'Keep hands off by a guard or a hood, and let it cool before you clean it.',
        place,
      },
    ]
  })

/** A plastic lens, cover or film burns and drips: always worth knowing, and a warning where the light can light it. */
function lensDrips(lamp: Lamp, parts: DangerParts): Finding[] {
  return heatedPieces(lamp, parts).flatMap(({ of, material: { burns, ignites }, heat, place }) => {
    if (!burns || !ignites) return []
    const { mjKg, name, drips, how, source } = burns
    const kg = lensKg(of)
    const needs = criticalAt(ignites, lamp.reading.ambientC)
    const lit = (heat?.kWm2 ?? 0) >= needs
    const light = lit
      ? 'The light on a dirty spot can light it:'
      : 'Its own light on a dirty spot stays below what lights it:'
    return [
      {
        rule: 'lens-drips',
        severity: lit ? ('warning' as const) : ('note' as const),
        title: `Once alight, ${elementWords(of)} burns on${drips ? ' and drips' : ''}: ${kg > 0 ? `${mass(kg)} of ${name}, ${plain(kg * mjKg)} MJ` : `${name} of a thickness that isn’t stated`}.`,
        why: `${kg > 0 ? `Heat of combustion: ${source}; ${how}` : capital(how)}. ${light} ${kWm2Plain(needs)}.${kg > 0 ? ' Mass by its outline.' : ''}`,
        cure: 'Nothing that burns below it, an extinguisher near by, and never leave it lit alone.',
        place,
      },
    ]
  })
}

/** Light and face warm a glass in the middle; its rim is taken as cold as the air. */
function lensCracks(lamp: Lamp, parts: DangerParts): Finding[] {
  const { ambientC } = lamp.reading
  return heatedPieces(lamp, parts).flatMap(({ of, material: { label, cracksFromK, sources }, heat, place }) => {
    if (!heat || cracksFromK === null) return []
    const { cleanC, dirtyC } = heat
    const clean = cleanC - ambientC > cracksFromK
    if (!clean && dirtyC - ambientC <= cracksFromK) return []
    return [
      {
        rule: 'lens-cracks',
        severity: clean ? ('severe' as const) : ('warning' as const),
        title: clean
          ? `Even clean, ${elementWords(of)} can get to ${celsius(cleanC)} in its middle: at a cold rim the glass can crack and fall.`
          : `Dirt on ${elementWords(of)} can get to ${celsius(dirtyC)}: there the glass can crack and fall.`,
        why: `${label}: ${sources.temperature}`,
        cure: 'Toughened or borosilicate glass, held softly at its edge, more room to the face, and a mesh or film that keeps pieces together.',
        place,
      },
    ]
  })
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

export const DANGER_LENS: readonly ((lamp: Lamp, parts: DangerParts) => Finding[])[] = [
  lensHotToTouch,
  lensDrips,
  lensCracks,
]
