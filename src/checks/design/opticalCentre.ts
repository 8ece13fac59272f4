// A piece that was cut beside the optical centre of its lens: it throws the beam aside like a prism, unless the lamp stands aside as well.
import { elementsOf, pieceNearMm } from '../../lamp/assembly.ts'
import { fromFrame } from '../../lamp/body.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { elementWords, type LensElement, lensesOf } from '../../library/lensSystem.ts'
import type { Finding } from '../finding.ts'
import { emissionPoints } from '../optics.ts'
import { deg, mm } from '../words.ts'

/** As good as along the lamp's axis. */
const STRAIGHT_DEG = 1

export function opticalCentre(lamp: Lamp): Finding[] {
  return lensesOf(lamp).flatMap((lens) => {
    const besideMm = pieceNearMm(lens)
    if (besideMm <= 0) return []
    const aside = asideDeg(lamp, lens)
    const straight = aside === null || aside < STRAIGHT_DEG
    const others = elementsOf(lamp).length > lensesOf(lamp).length || lensesOf(lamp).length > 1
    const who = elementWords(lens)
    return [
      {
        rule: 'optical-centre-beside',
        severity: straight ? ('note' as const) : ('warning' as const),
        title: `The optical centre of ${who} lies ${mm(besideMm)} beside the piece${aside === null ? '' : straight ? ': the emitters lie behind it, so the beam stays straight' : `: the beam leaves some ${deg(aside)} aside`}.`,
        why: `A point of the array leaves a lens parallel to its ray through the optical centre (geometry of one thin lens${others ? ', without the other elements' : ''}): so much aside the centre lies as seen from the middle of the emitters. Rings far from it are steep: they lose more light and split its colours.`,
        cure: straight
          ? 'If it is meant, leave it.'
          : 'If it is meant, leave it. Otherwise cut the piece about the optical centre, move its centre over the emitters, or aim the lamp by that angle.',
        place: { kind: 'part' as const, part: 'lens' as const },
      },
    ]
  })
}

/** Angle between the lamp's axis and the line from the middle of the emitters through the optical centre; null without emitters behind it. */
function asideDeg(lamp: Lamp, lens: LensElement): number | null {
  const all = emissionPoints(lamp)
  const [x, y, z] = fromFrame(lens, [lens.centreXMm ?? 0, lens.centreYMm ?? 0, 0])
  const mean = (of: 'xMm' | 'yMm' | 'zMm') => all.reduce((sum, s) => sum + s[of], 0) / all.length
  const away = z - mean('zMm')
  if (!(away > 0)) return null
  return (Math.atan2(Math.hypot(x - mean('xMm'), y - mean('yMm')), away) * 180) / Math.PI
}
