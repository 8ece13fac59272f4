import type { Lamp } from '../../lamp/schema.ts'
import { lensesOf } from '../../library/lensSystem.ts'
import { T95 } from '../../num/stats.ts'
import type { Finding } from '../finding.ts'
import { shinesByRays } from '../optics.ts'
import type { SheetParts } from '../parts.ts'
import { percent } from '../words.ts'

/** From this contrast the pattern of the array is clearly visible on a wall (common practice, no source). */
const PLAIN = 0.25

export function patterned(lamp: Lamp, { patterned: is, figures }: SheetParts): Finding[] {
  const contrast = figures['patternContrast']
  // A sample of rays makes a pattern of its own.
  if (!is && shinesByRays(lamp)) return []
  if (!is) return contrast && contrast.value - T95 * contrast.se > PLAIN ? [showsArray(lamp, contrast.value)] : []
  return [
    {
      rule: 'patterned-beam',
      severity: 'warning',
      title: `The beam is patterned: it falls below half or a tenth of its peak and rises again further out${contrast ? ` (contrast ${percent(contrast.value)})` : ''}.`,
      why: 'A lens near its focus throws a picture of the array, and wide gaps between emitters show as dark rings. Beam and field angle are then those of the outermost crossing; half-flux and ninety-flux angles say more.',
      cure:
        lensesOf(lamp).length > 0
          ? 'Move the lens a few per cent of its focal length nearer to the emitters, or pack them closer.'
          : 'Pack the emitters closer, or use wider collimators.',
      place: { kind: 'part', part: lensesOf(lamp).length > 0 ? 'lens' : 'emitters' },
    },
  ]
}

function showsArray(lamp: Lamp, contrast: number): Finding {
  return {
    rule: 'beam-shows-array',
    severity: 'note',
    title: `The beam shows the array: its middle varies by ± ${percent(contrast)} (pattern contrast).`,
    why: 'Contrast is (highest − lowest) / (highest + lowest) of the smoothed intensity inside half the field angle. Beam and field angle stay definite, but a thing on the target may stand in a darker spot.',
    cure:
      lensesOf(lamp).length > 0
        ? 'If it matters, move the lens a few per cent of its focal length nearer to the emitters, or pack them closer.'
        : 'If it matters, pack the emitters closer, or use wider collimators.',
    place: { kind: 'part', part: lensesOf(lamp).length > 0 ? 'lens' : 'emitters' },
  }
}
