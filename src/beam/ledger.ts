// Where each lumen went: shares of what the emitters gave, by fate, the delivered light split by angle. Sums to 1.
import { type Folded, fold, jackknife, type Tally } from '../run/batches.ts'
import type { Figure } from '../run/figure.ts'
import { FATES, type Fate, type Run } from '../run/types.ts'
import { type Angles, atEnds } from './angles.ts'
import { thetaEdges, weightInside } from './profile.ts'

export interface LedgerRow {
  line: string
  /** In plain words. */
  name: string
  share: Figure
  lm: number
  w: number
}

const NAMES: Record<Exclude<Fate, 'delivered'>, string> = {
  opticLoss: 'Not passed by the emitters’ optics',
  blocked: 'Emitted outside the tunnel’s wall',
  wall: 'Absorbed by the tunnel wall',
  face: 'Absorbed by the face',
  behindFace: 'Came back past the edge of the face',
  leakedFaceGap: 'Escaped sideways between face and tunnel or lens',
  leakedLensGap: 'Escaped between tunnel and lens',
  outsideLens: 'Missed the lens',
  lensRim: 'Ended on the rim of the lens',
  lensAbsorbed: 'Absorbed in the lens material',
  lensReturnedLost: 'Sent back by the lens and lost',
  deliveredViaRiser: 'Left the lamp by way of a groove’s riser or tip',
  roulette: 'Left to chance when weak rays end (zero on average)',
  limit: 'Stopped after too many bounces',
  lost: 'Lost to rounding',
}

const DELIVERED = {
  deliveredInBeam: 'Left the lamp, inside the beam angle',
  deliveredInField: 'Left the lamp, outside the beam, inside the field angle',
  deliveredOutside: 'Left the lamp, outside the field angle',
  delivered: 'Left the lamp',
} as const

/**
 * Where the light went: fractions of what the emitters gave with errors, lm and W, rows in the order light meets its
 * fates; the fractions sum to 1. Delivered light is split by `angles` where they are known. Watts of the split rows
 * go by their lumens: colour is taken as even over direction (our choice).
 */
export function readLedger(run: Run, angles: Angles): LedgerRow[] {
  const folded = fold(run)
  return FATES.flatMap((fate, i) => {
    if (fate === 'delivered') return deliveredRows(folded, angles)
    const share = (t: Tally) => t.data[folded.layout.fateLm + i]! / t.data[folded.layout.emitted + 1]!
    return [ledgerRow(folded, fate, NAMES[fate], share(folded.all), folded.without.map(share), wattsOf(folded, i))]
  })
}

/** The light of so few rays is not spread over the batches so that their spread is to be trusted. */
const FEW_RAYS = 100

const wattsOf = ({ all, layout }: Folded, fate: number) => all.data[layout.fateW + fate]! * all.wPerWeight

/** A line of a ledger: share of what the emitters gave, with its error, in all and without each batch; watts as they are. */
export function ledgerRow(
  folded: Folded,
  line: string,
  name: string,
  all: number,
  without: number[],
  w: number,
): LedgerRow {
  const share = jackknife(all, without)
  // Of a few rays most batches have none, and by chance there are fewer yet: n of them are known to √(n + 2), two more than have come
  // (A. Agresti and B. Coull, The American Statistician 52, 1998, from memory). Lines never seen stay empty.
  const { rays } = folded.run
  const n = Math.abs(all) * rays
  const few = n > 0 && n < FEW_RAYS ? Math.sqrt(n + 2) / rays : 0
  return { line, name, share: { value: all, se: Math.max(share.se, few) }, lm: all * folded.run.emittedLm, w }
}

function deliveredRows(folded: Folded, angles: Angles): LedgerRow[] {
  const { layout, run } = folded
  const at = FATES.indexOf('delivered')
  const total = (t: Tally) => t.data[layout.fateLm + at]! / t.data[layout.emitted + 1]!
  const watts = wattsOf(folded, at)
  const [beam, field] = [angles.beam, angles.field]
  if (!beam || !field || !(total(folded.all) > 0))
    return [ledgerRow(folded, 'delivered', DELIVERED.delivered, total(folded.all), folded.without.map(total), watts)]
  const edges = thetaEdges(run.shape)
  const inside = (t: Tally, half: number) =>
    (weightInside(t.data, layout.profileLm, edges, half) - weightInside(t.data, layout.profileRiserLm, edges, half)) /
    t.data[layout.emitted + 1]!
  const split = (t: Tally, beamHalf: number, fieldHalf: number) => {
    const inBeam = Math.min(inside(t, beamHalf), total(t))
    const inField = Math.min(Math.max(0, inside(t, Math.max(beamHalf, fieldHalf)) - inBeam), total(t) - inBeam)
    return [inBeam, inField, total(t) - inBeam - inField] as const
  }
  const all = split(folded.all, beam.rad, field.rad)
  const without = folded.without.map((t, b) => split(t, beam.without[b]!, field.without[b]!))
  // What the angles' own errors, which no batch has, move from one row to the next.
  const ownSe = (k: 0 | 1 | 2) =>
    Math.hypot(
      atEnds((rad) => split(folded.all, rad, field.rad)[k], beam),
      atEnds((rad) => split(folded.all, beam.rad, rad)[k], field),
    )
  const lines = ['deliveredInBeam', 'deliveredInField', 'deliveredOutside'] as const
  return ([0, 1, 2] as const).map((k) => {
    const shares = without.map((s) => s[k])
    const w = (watts * all[k]) / total(folded.all)
    const plain = ledgerRow(folded, lines[k], DELIVERED[lines[k]], all[k], shares, w)
    return { ...plain, share: { ...plain.share, se: Math.hypot(plain.share.se, ownSe(k)) } }
  })
}
