// What a cover's two surfaces send back: with plain ones some 8 %, whatever it is made of.
import { elementsOf, labelOf } from '../../lamp/assembly.ts'
import type { Cover, Lamp } from '../../lamp/schema.ts'
import { lensIndex } from '../../library/lensMaterial.ts'
import { elementWords } from '../../library/lensSystem.ts'
import type { Finding } from '../finding.ts'
import { percent, plain } from '../words.ts'

/** Below this no pane is worth a word. */
const WORTH = 0.02

/** Share that a pane sends back, light to and fro inside it included, absorption not: 2R/(1 + R) of a surface's R (incoherent sum; textbook). */
const sentBackByPane = (surface: number): number => (2 * surface) / (1 + surface)

/** Of one surface: as stated, or ((n − 1)/(n + 1))² at normal incidence (Fresnel), 550 nm. */
function surfaceOf(cover: Cover): number {
  const n = lensIndex(cover, 550)
  return cover.surfaceReflectance ?? ((n - 1) / (n + 1)) ** 2
}

export function coverLoss(lamp: Lamp): Finding[] {
  return elementsOf(lamp).flatMap((cover) => {
    if (cover.kind !== 'cover') return []
    const back = sentBackByPane(surfaceOf(cover))
    if (back < WORTH) return []
    const coated = cover.surfaceReflectance !== undefined
    const n = plain(lensIndex(cover, 550))
    return [
      {
        rule: 'cover-loss',
        severity: 'note' as const,
        title: `${elementWords(cover)} sends ${percent(back)} of the light that meets it square back into the lamp, more of light aslant.`,
        why: `${coated ? `Each surface sends back ${percent(cover.surfaceReflectance ?? 0)}, as stated` : `Two plain surfaces of an index of ${n}: ((n − 1)/(n + 1))² each (Fresnel)`}; 2R/(1 + R) with what goes to and fro inside it. Some of it comes out again by the tunnel, the rest heats the lamp.`,
        cure: coated
          ? 'A better coating, or no cover.'
          : 'A pane with antireflective coatings sends back 1 to 2 %; or leave it out where no dust, water or fingers come.',
        place: { kind: 'part' as const, part: 'lens' as const, of: labelOf(cover) },
      },
    ]
  })
}
