// Findings on lens, covers and films: hot to touch, dripping when alight. Part of the danger sheet (danger.ts).
import { lensKg } from '../hazard/lensMass.ts'
import { elementsOf, labelOf, mappedElement, mappedIndex } from '../lamp/assembly.ts'
import type { Lamp } from '../lamp/schema.ts'
import { burningContact, CONTACT_SOURCE, contactWords } from '../library/contactBurns.ts'
import { criticalAt } from '../library/ignition.ts'
import { materialOfPiece } from '../library/lensMaterial.ts'
import { elementWords } from '../library/lensSystem.ts'
import type { DangerParts } from './dangerParts.ts'
import type { Finding } from './finding.ts'
import { celsius, kWm2Plain, plain } from './words.ts'

const place = { kind: 'part', part: 'lens' } as const

function lensHotToTouch(lamp: Lamp, { parts }: DangerParts): Finding[] {
  const lit = mappedElement(lamp)
  const surface = lit && materialOfPiece(lit)?.family
  if (!parts.lens || !surface) return []
  const who = lit.isLens ? 'lens' : elementWords(lit)
  const clean = burningContact(surface, parts.lens.cleanC)
  const dirty = burningContact(surface, parts.lens.dirtyC)
  const contact = clean ?? dirty
  if (!contact) return []
  return [
    {
      rule: 'lens-hot-to-touch',
      severity: clean ? (clean.seconds <= 10 ? 'severe' : clean.seconds <= 600 ? 'warning' : 'note') : 'note',
      title: clean
        ? `The clean ${who} gets to ${celsius(parts.lens.cleanC)}: a touch of ${clean.words} burns.`
        : `Dirt on ${elementWords(lit)} gets to ${celsius(parts.lens.dirtyC)}: there a touch of ${dirty!.words} burns.`,
      why: `Burn thresholds for ${surface}: ${contactWords(surface)} (${CONTACT_SOURCE}). The hottest place, steady; light absorbed by the skin is not included.`,
      cure: 'Keep hands off by a guard or a hood, and let it cool before you clean it.',
      place,
    },
  ]
}

/** A plastic lens or cover burns and drips: always worth knowing, and a warning where the light can light it. */
function lensDrips(lamp: Lamp, { parts }: DangerParts): Finding[] {
  const all = elementsOf(lamp)
  const mapped = mappedIndex(all)
  return all.flatMap((of, i) => {
    const { burns, ignites } = materialOfPiece(of) ?? {}
    if (!burns || !ignites) return []
    const { mjKg, name, drips, how, source } = burns
    const kg = lensKg(of)
    const needs = criticalAt(ignites, lamp.reading.ambientC)
    // The light on one of them is known: another counts as lit.
    const known = i === mapped
    const lit = known ? (parts.lens?.kWm2 ?? 0) >= needs : true
    const light = !known
      ? 'The light on it isn’t known place by place: a dirty spot is taken to be lit from'
      : lit
        ? 'The light on a dirty spot can light it:'
        : 'Its own light on a dirty spot stays below what lights it:'
    return [
      {
        rule: 'lens-drips',
        severity: lit ? ('warning' as const) : ('note' as const),
        title: `Once alight, ${elementWords(of)} burns on${drips ? ' and drips' : ''}: ${kg > 0 ? `${plain(kg)} kg of ${name}, ${plain(kg * mjKg)} MJ` : `${name} of a thickness that isn’t stated`}.`,
        why: `${kg > 0 ? `Heat of combustion: ${source}; ${how}` : capital(how)}. ${light} ${kWm2Plain(needs)}.${kg > 0 ? ' Mass by its outline.' : ''}`,
        cure: 'Nothing that burns below it, an extinguisher near by, and never leave it lit alone.',
        place: { ...place, of: labelOf(of) },
      },
    ]
  })
}

/** Light and face warm a glass in the middle; its rim is taken as cold as the air. */
function lensCracks(lamp: Lamp, { parts }: DangerParts): Finding[] {
  const { reading } = lamp
  const lit = mappedElement(lamp)
  const material = lit && materialOfPiece(lit)
  if (!parts.lens || !material || material.cracksFromK === null) return []
  const { label, cracksFromK, sources } = material
  const { cleanC, dirtyC } = parts.lens
  const clean = cleanC - reading.ambientC > cracksFromK
  if (!clean && dirtyC - reading.ambientC <= cracksFromK) return []
  return [
    {
      rule: 'lens-cracks',
      severity: clean ? 'severe' : 'warning',
      title: clean
        ? `Even clean, ${elementWords(lit)} can get to ${celsius(cleanC)} in its middle: at a cold rim the glass can crack and fall.`
        : `Dirt on ${elementWords(lit)} can get to ${celsius(dirtyC)}: there the glass can crack and fall.`,
      why: `${label}: ${sources.temperature}`,
      cure: 'Toughened or borosilicate glass, held softly at its edge, and a mesh or film that keeps pieces together.',
      place,
    },
  ]
}

/** By the face's heat alone: what light it takes in comes on top. */
function elementCracks({ reading }: Lamp, { parts }: DangerParts): Finding[] {
  return parts.elements
    .filter(({ settlesC, cracksFromK }) => cracksFromK !== null && settlesC - reading.ambientC > cracksFromK)
    .map(({ name, settlesC, faceC, material, source }) => ({
      rule: 'element-cracks',
      severity: 'severe' as const,
      title: `Over the face “${name}” can get to ${celsius(settlesC)} in its middle: at a cold rim the glass can crack and fall.`,
      why: `The face is at ${celsius(faceC)}: its radiation and the air between, without the light that it takes in itself, which comes on top. ${material}: ${source}`,
      cure: 'Toughened or borosilicate glass, held softly at its edge, more room to the face, and a mesh or film that keeps pieces together.',
      place: { ...place, of: name },
    }))
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

export const DANGER_LENS: readonly ((lamp: Lamp, parts: DangerParts) => Finding[])[] = [
  lensHotToTouch,
  lensDrips,
  lensCracks,
  elementCracks,
]
