// A lithium pack: what it holds, and cells that get too hot.

import { crossesAt } from '../../heat/limits.ts'
import type { Lamp, Pack } from '../../lamp/schema.ts'
import { CHEMISTRIES } from '../../library/cells.ts'
import { linear } from '../../num/interpolate.ts'
import type { Finding } from '../finding.ts'
import { leftOnReason, namesByFirst, type PowerParts, topsOf } from '../powerParts.ts'
import { celsius, degreesC, gramsUp, plain, seconds, upThree } from '../words.ts'

const place = { kind: 'part', part: 'heat' } as const
/** From here on carriers treat a pack as dangerous goods (IATA, ADR: memory). */
const DANGEROUS_WH = 100
/** Hydrogen fluoride from a burning lithium-ion cell: 20 to 200 mg/Wh (Scientific Reports 7 (2017) 10018: memory). */
const HF_G_WH = 0.2

export function packFire(lamp: Lamp, { modes }: PowerParts): Finding[] {
  const supply = lamp.power?.supply
  if (supply?.kind !== 'pack' || lamp.boards.length === 0) return []
  const hot = modes.filter((m) => m.limit.kind === 'cells')
  const found: Finding[] = hot.length > 0 ? [cellsHot(supply, hot)] : cellsHotLeftOn(supply, modes)
  found.push(supply.chemistry === 'li-ion' || supply.chemistry === 'lifepo4' ? lithium(supply) : gas(supply))
  return found
}

/** Litres of hydrogen of each cell for each Ah of overcharge, at 20 °C: 3600 C/(2 F) mol of 24.06 l (Faraday). */
const HYDROGEN_L = (3600 / (2 * 96_485)) * 24.06

const gas = (pack: Pack): Finding => ({
  rule: 'pack-gas',
  severity: 'note',
  title: `Overcharged the pack gives off up to ${upThree(pack.series * HYDROGEN_L)} l of hydrogen for each Ah: with air explosive from 4 % on, and the lamp holds what lights it.`,
  why: `${pack.series} cells of ${CHEMISTRIES[pack.chemistry].label} in series, by Faraday’s law; 4 % is the lower limit of explosion in air (memory). Sealed cells vent when they are charged too fast, too warm or too long. Shorted, a pack of any chemistry gives enough to weld and burn.`,
  cure: 'A vent in the case, a charger made for this chemistry, and no charging in a closed case.',
  place,
})

const CELLS_WHY =
  'Warmed by their own losses, nothing given off: an upper bound. Over its limit a cell ages fast; far over it, it runs away and burns. The limit is the cells’ own.'
const CELLS_CURE = 'more cells in parallel, less current, air at the pack, or a cut-out on it.'

function cellsHot(pack: Pack, hot: PowerParts['modes']): Finding {
  const first = hot.reduce((a, b) => (b.limit.atS < a.limit.atS ? b : a))
  return {
    rule: 'cells-hot',
    severity: 'severe',
    title: `${namesByFirst(hot, (m) => m.limit.atS)}: the cells reach their ${degreesC(pack.maxCellC)} ${first.limit.atS === 0 ? 'at once' : `after ${seconds(first.limit.atS)}`}.`,
    why: CELLS_WHY,
    cure: `M${CELLS_CURE.slice(1)}`,
    place,
  }
}

/** No run ends by warm cells, and one would if nobody switched it off at the emitters' limit. */
function cellsHotLeftOn(pack: Pack, modes: PowerParts['modes']): Finding[] {
  const hot = modes.flatMap((m) => {
    const { tS, cellC } = m.leftOn?.curves ?? m.curves
    const atS = cellC ? crossesAt(tS, cellC, pack.maxCellC) : null
    return atS === null ? [] : [{ ...m, atS }]
  })
  if (hot.length === 0) return []
  const topC = Math.max(...hot.map((m) => topsOf(m, (c) => c.cellC).top))
  const firstS = Math.min(...hot.map((m) => m.atS))
  return [
    {
      rule: 'cells-hot',
      severity: 'severe',
      title: `${namesByFirst(hot, (m) => m.atS)}, left on past its limit: the cells reach their ${degreesC(pack.maxCellC)} after ${seconds(firstS)}, and get to ${celsius(topC)}.`,
      why: `${leftOnReason(hot)}${CELLS_WHY}`,
      cure: `A switch that can’t be left on, or a thermal cut-out; ${CELLS_CURE}`,
      place,
    },
  ]
}

/** Nominal: the cell at half charge. */
const packWh = (pack: Pack): number => {
  const { charge, volts } = CHEMISTRIES[pack.chemistry]
  return pack.series * pack.parallel * pack.cellAh * linear(charge, volts, 0.5)
}

function lithium(pack: Pack): Finding {
  const wh = packWh(pack)
  return {
    rule: 'pack-fire',
    severity: wh > DANGEROUS_WH ? 'warning' : 'note',
    title: `The pack holds ${upThree(wh)} Wh, ${upThree((wh * 3.6) / 1000)} MJ: a cell that runs away can light all of it; burning, it gives several times as much heat, and up to ${gramsUp(wh * HF_G_WH)} of hydrogen fluoride.`,
    why: `${pack.series} × ${pack.parallel} cells of ${plain(pack.cellAh)} Ah, ${CHEMISTRIES[pack.chemistry].label}, at half charge. Heat of burning: several times the stored energy; hydrogen fluoride 20 to 200 mg/Wh (Scientific Reports 7 (2017) 10018): both from memory. Over ${DANGEROUS_WH} Wh carriers treat it as dangerous goods (memory).`,
    cure: 'Protection board, fuse at the pack, cells from one known maker, a case of metal with a vent, away from the sink. Charge it outdoors or on stone, and never alone. Water cools it; leave the smoke.',
    place,
  }
}
