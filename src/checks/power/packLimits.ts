// A pack used outside of what its chemistry bears: emptied too far, too cold.
import type { Lamp, Pack } from '../../lamp/schema.ts'
import { CHEMISTRIES } from '../../library/cells.ts'
import { type Finding, partOf } from '../finding.ts'
import { degreesC, plain, upThree } from '../words.ts'

const about = { place: { kind: 'part', part: 'heat' }, parts: [partOf({ kind: 'supply' })] } as const
const isLithium = ({ chemistry }: Pack): boolean => chemistry === 'li-ion' || chemistry === 'lifepo4'

export function packLimits(lamp: Lamp): Finding[] {
  const supply = lamp.power?.supply
  if (!lamp.power || supply?.kind !== 'pack') return []
  return [...emptiedTooFar(supply), ...cold(supply, lamp.power.coldestC ?? lamp.reading.ambientC)]
}

function emptiedTooFar(pack: Pack): Finding[] {
  const { emptyV, label, volts } = CHEMISTRIES[pack.chemistry]
  const fullCellV = Math.max(...volts)
  if (pack.cutOffCellV >= fullCellV) {
    return [
      {
        rule: 'cell-cut-off-high',
        severity: 'severe',
        title: `Cells of ${label} are cut off at ${plain(pack.cutOffCellV)} V each and have ${plain(fullCellV)} V when full: the lamp never comes on.`,
        why: 'The pack counts as empty from the start. A cut-off so high belongs to another chemistry; a charger for that one would overcharge these cells.',
        cure: `The chemistry’s own cut-off, ${plain(emptyV)} V or a little more.`,
        ...about,
      },
    ]
  }
  if (pack.cutOffCellV >= emptyV) return []
  return [
    {
      rule: 'cell-cut-off-low',
      severity: isLithium(pack) ? 'severe' : 'warning',
      title: `Cells of ${label} are emptied to ${plain(pack.cutOffCellV)} V each; ${plain(emptyV)} V is the usual end.`,
      why: `${isLithium(pack) ? 'Below it copper goes into solution, and at the next charge the cell may short inside and burn.' : 'Below it the weakest cell of a row is driven backwards and leaks.'} The usual end is the chemistry’s (memory); the cells’ own data come first.`,
      cure: `Cut off at ${upThree(emptyV)} V a cell or more; never charge a cell that was below it.`,
      ...about,
    },
  ]
}

function cold(pack: Pack, coldestC: number): Finding[] {
  const { dischargeFromC, chargeFromC, label } = CHEMISTRIES[pack.chemistry]
  const words = degreesC(coldestC)
  if (coldestC < dischargeFromC) {
    return [
      {
        rule: 'pack-cold',
        severity: 'warning',
        title: `Switched on at ${words}: cells of ${label} give current from ${degreesC(dischargeFromC)} on.`,
        why: 'In such cold a cell’s resistance is many times its usual one: the voltage breaks down under load, and what it gives harms it. Usual limits of the chemistry (memory); the cells’ own data come first.',
        cure: 'Keep the pack warm, or choose cells made for the cold.',
        ...about,
      },
    ]
  }
  if (coldestC >= chargeFromC) return []
  return [
    {
      rule: 'pack-cold',
      severity: 'note',
      title: `Used at ${words}: cells of ${label} must not be charged under ${degreesC(chargeFromC)}.`,
      why: 'Charged in the cold, lithium plates out as metal and later shorts the cell. Giving current they only sag more: their resistance is several times that of the document, which is for warm cells. Usual limits of the chemistry (memory).',
      cure: 'Let the pack warm up before it is charged, or use a charger that measures its temperature.',
      ...about,
    },
  ]
}
