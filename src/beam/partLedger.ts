// The losses of an assembled lamp by part: each stretch and step of the tunnel, each element, and the gaps between them.
import { elementsOf, labelOf, stretchesOf } from '../lamp/assembly.ts'
import type { Lamp } from '../lamp/schema.ts'
import { fold, type Tally } from '../run/batches.ts'
import {
  absorbedPart,
  gapPart,
  PART_BEHIND_FACE,
  PART_BLOCKED,
  PART_FACE,
  PART_FACE_GAP,
  PART_LENS_GAP,
  PART_OUTSIDE,
  rimPart,
  stepPart,
  wallPart,
} from '../run/parts.ts'
import type { Run } from '../run/types.ts'
import { type LedgerRow, ledgerRow } from './ledger.ts'

/**
 * What each part took of the light, also of what an element had sent back: shares of what the emitters gave, with errors, lm and W, in the order
 * that light meets them. Together they are the ledger's losses between the emitters' optics and the target; lines that took nothing are left out.
 * Empty for a plain lamp.
 */
export function readPartLedger(run: Run, lamp: Lamp): LedgerRow[] {
  if (!run.shape.parts) return []
  const folded = fold(run)
  const { partsW, partsLm, emitted } = folded.layout
  return partNames(lamp).flatMap(([part, name]) => {
    const share = (t: Tally) => t.data[partsLm + part]! / t.data[emitted + 1]!
    const watts = folded.all.data[partsW + part]! * folded.all.wPerWeight
    if (!(watts > 0)) return []
    return [ledgerRow(folded, `part${part}`, name, share(folded.all), folded.without.map(share), watts)]
  })
}

const round = (mm: number) => Math.round(mm * 10) / 10

/** Lines of the parts with their names, in the order that light meets them. */
function partNames(lamp: Lamp): [number, string][] {
  const stretches = lamp.tunnel ? stretchesOf(lamp.tunnel) : []
  const elements = elementsOf(lamp)
  const n = stretches.length
  const first = elements[0]
  const walls = stretches.flatMap(({ zInMm, zOutMm }, i): [number, string][] => [
    [wallPart(i), n > 1 ? `Wall from ${round(zInMm)} to ${round(zOutMm)} mm` : 'Wall'],
    [stepPart(i), `Step at ${round(zOutMm)} mm`],
  ])
  const bodies = elements.flatMap((element, e): [number, string][] => {
    const name = labelOf(element)
    const next = elements[e + 1]
    const gap = next ? `Missed: from ${name} past ${labelOf(next)}` : `${name}: left sideways`
    return [
      [absorbedPart(n, e), `${name}: absorbed`],
      [rimPart(n, e), `${name}: ended on the rim`],
      [gapPart(n, e), gap],
    ]
  })
  return [
    [PART_BLOCKED, 'Emitted outside the wall'],
    [PART_FACE, 'Face'],
    [PART_BEHIND_FACE, 'Past the edge of the face'],
    [PART_FACE_GAP, 'Out between face and tunnel'],
    ...walls,
    [PART_LENS_GAP, first ? `Out between tunnel and ${labelOf(first)}` : 'Out above the tunnel'],
    [PART_OUTSIDE, first ? `Missed ${labelOf(first)}` : 'Missed the opening'],
    ...bodies,
  ]
}
