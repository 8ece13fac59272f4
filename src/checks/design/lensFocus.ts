// Position of the lens relative to its focus, and the effect on the beam.
import type { Lamp } from '../../lamp/schema.ts'
import { elementWords, type LensSystem, lensesOf, lensSystem } from '../../library/lensSystem.ts'
import type { Finding } from '../finding.ts'
import { emissionPoints, fwhmDeg } from '../optics.ts'
import { ahead, deg, mm, percent } from '../words.ts'

/** Relative defocus beyond which the lens hardly collimates. */
const FAR = 0.15
/** Relative defocus below which the beam is an image of the array. */
const NEAR = 0.02

export function lensFocus(lamp: Lamp): Finding[] {
  const all = emissionPoints(lamp)
  if (all.length === 0 || lensesOf(lamp).length === 0) return []
  const system = lensSystem(lamp)
  if (!system) return [noFocus]
  const { focalMm: f, focusZMm } = system
  const height = all.reduce((sum, s) => sum + s.zMm, 0) / all.length
  // Of several lenses: from their principal plane.
  const distance = f + focusZMm - height
  if (distance <= 0) return []
  const { who, stands, its } = wordsOf(system)
  const off = (distance - f) / f
  const place = { kind: 'part', part: 'lens' } as const
  if (Math.abs(off) < NEAR) {
    if (all.length < 2) return []
    return [
      {
        rule: 'lens-at-focus',
        severity: 'note',
        title: `${who} ${stands} at ${its} focus (${mm(distance)} from the emitters, focal length ${mm(f)}): the beam is a picture of the array.`,
        why: 'A lens at its focal distance throws a sharp image of what stands there: every emitter becomes a spot, with dark gaps between.',
        cure: `For a smooth beam move the lens 3 to 8 % nearer, to some ${mm(height + 0.95 * f)} above the face, and see what it costs.`,
        place,
      },
    ]
  }
  // A point of the array fills the lens up to this radius and leaves as a cone of this half angle: a (1/L − 1/f).
  const widths = all.map((s) => fwhmDeg(s.emitter, s.optic) ?? 60)
  const reach = Math.min(system.halfMm, distance * Math.tan((Math.min(170, Math.max(...widths)) / 2) * (Math.PI / 180)))
  const blur = (2 * Math.atan(reach * Math.abs(1 / distance - 1 / f)) * 180) / Math.PI
  const far = Math.abs(off) > FAR
  const crossing = off > 0 ? 1 / (1 / f - 1 / distance) : null
  return [
    {
      rule: 'lens-off-focus',
      severity: far ? 'warning' : 'note',
      title: `${who} ${stands} ${percent(Math.abs(off))} of ${its} focal length ${off < 0 ? 'inside' : 'outside'} ${its} focus (${mm(distance)} from the emitters, focal length ${mm(f)}).`,
      why: `Each emitter’s light then leaves spread over about ${deg(blur)}.${crossing ? ` It comes together ${ahead(crossing)} in front of the lens before it spreads: a hot place.` : ' A little of that melts the spots of the array together; much of it only widens the beam.'}`,
      cure: far
        ? `Set the lens nearer to ${mm(height + f)} above the face, or use one with a focal length of about ${mm(distance)}.`
        : 'If it is meant, leave it. Compare axial intensity and pattern with the lens a little further in and out.',
      place,
    },
  ]
}

const wordsOf = ({ lenses: [first, ...others] }: LensSystem) =>
  others.length > 0
    ? { who: 'The lenses together', stands: 'stand', its: 'their' }
    : { who: first.isLens ? 'The lens' : elementWords(first), stands: 'stands', its: 'its' }

const noFocus: Finding = {
  rule: 'lenses-without-focus',
  severity: 'note',
  title: 'The lenses together have no focus behind them: whether they stand well can’t be said from their places.',
  why: 'Light from far ahead comes together between them, or leaves them parallel (thin lenses one behind the other, textbook).',
  cure: 'Compare beam and axial candela with a lens moved, or with one less.',
  place: { kind: 'part', part: 'lens' },
}
