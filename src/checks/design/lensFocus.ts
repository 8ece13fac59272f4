// Position of the lens relative to its focus, and the effect on the beam.
import type { Lamp } from '../../lamp/schema.ts'
import { lensFocalMm } from '../../library/lensMaterial.ts'
import type { Finding } from '../finding.ts'
import { emissionPoints, fwhmDeg } from '../optics.ts'
import { ahead, deg, mm, percent } from '../words.ts'

/** Relative defocus beyond which the lens hardly collimates. */
const FAR = 0.15
/** Relative defocus below which the beam is an image of the array. */
const NEAR = 0.02

export function lensFocus(lamp: Lamp): Finding[] {
  const all = emissionPoints(lamp)
  if (!lamp.lens || all.length === 0) return []
  const f = lensFocalMm(lamp.lens)
  const height = all.reduce((sum, s) => sum + s.zMm, 0) / all.length
  const distance = lamp.lens.zMm - height
  if (distance <= 0) return []
  const off = (distance - f) / f
  const place = { kind: 'part', part: 'lens' } as const
  if (Math.abs(off) < NEAR) {
    if (all.length < 2) return []
    return [
      {
        rule: 'lens-at-focus',
        severity: 'note',
        title: `The lens stands at its focus (${mm(distance)} from the emitters, focal length ${mm(f)}): the beam is a picture of the array.`,
        why: 'A lens at its focal distance throws a sharp image of what stands there: every emitter becomes a spot, with dark gaps between.',
        cure: `For a smooth beam move the lens 3 to 8 % nearer, to some ${mm(height + 0.95 * f)} above the face, and see what it costs.`,
        place,
      },
    ]
  }
  // A point of the array fills the lens up to this radius and leaves as a cone of this half angle: a (1/L − 1/f).
  const widths = all.map((s) => fwhmDeg(s.emitter, s.optic) ?? 60)
  const reach = Math.min(
    lamp.lens.diameterMm / 2,
    distance * Math.tan((Math.min(170, Math.max(...widths)) / 2) * (Math.PI / 180)),
  )
  const blur = (2 * Math.atan(reach * Math.abs(1 / distance - 1 / f)) * 180) / Math.PI
  const far = Math.abs(off) > FAR
  const crossing = off > 0 ? 1 / (1 / f - 1 / distance) : null
  return [
    {
      rule: 'lens-off-focus',
      severity: far ? 'warning' : 'note',
      title: `The lens stands ${percent(Math.abs(off))} of its focal length ${off < 0 ? 'inside' : 'outside'} its focus (${mm(distance)} from the emitters, focal length ${mm(f)}).`,
      why: `Each emitter’s light then leaves spread over about ${deg(blur)}.${crossing ? ` It comes together ${ahead(crossing)} in front of the lens before it spreads: a hot place.` : ' A little of that melts the spots of the array together; much of it only widens the beam.'}`,
      cure: far
        ? `Set the lens nearer to ${mm(height + f)} above the face, or use one with a focal length of about ${mm(distance)}.`
        : 'Nothing, if it is meant. Compare axial candela and pattern with the lens a little further in and out.',
      place,
    },
  ]
}
