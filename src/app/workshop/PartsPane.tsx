// The parts list: what the lamp needs, in the order of assembly, with masses and the prices that the builder types.

import { useDeferredValue, useMemo } from 'react'
import type { Part } from '../../bill/part.ts'
import { type PartsList, partsList } from '../../bill/partsList.ts'
import { workshop as schema } from '../../lamp/workshop.ts'
import {
  amountWords,
  massOf,
  moneyWords,
  noteSentences,
  partsCsv,
  partWords,
  STEP_TITLES,
  shownPartUnit,
  sizeWords,
  sumSentences,
} from '../../report/partsTable.ts'
import { pageMark } from '../common/decimalMark.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { tidy } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { type Column, Table } from '../ui/Table.tsx'
import { TextField } from '../ui/TextField.tsx'
import { withTyped } from './edits.ts'
import { SavedWords } from './SavedWords.tsx'
import { ScrolledPane } from './ScrolledPane.tsx'
import { saving } from './saving.ts'

export function PartsPane() {
  const lamp = useDeferredValue(useDesign((s) => s.lamp))
  const list = useMemo(() => partsList(lamp), [lamp])
  const system = useUnitSystem()
  const csv = `${fileStem(lamp.name)}-parts.csv`
  return (
    <ScrolledPane className="workshop-pane" label="Parts list">
      <div className="workshop-row">
        <Button
          kind="strong"
          onPress={() => saving(csv, async () => saveFile(csv, partsCsv(list, pageMark, system), 'text/csv'))}
        >
          Save CSV
        </Button>
        <TextField
          label="Currency"
          value={list.cost.currency}
          onSet={(currency) =>
            tryEdit(design, 'Workshop: currency', (l) => ({
              ...l,
              workshop: { ...l.workshop, currency: currency.trim() },
            }))
          }
        />
        <SavedWords />
      </div>
      {sumSentences(list, system).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <Rows list={list} />
      {noteSentences(list, system).map((sentence) => (
        <p key={sentence} className="workshop-quiet">
          {sentence}
        </p>
      ))}
    </ScrolledPane>
  )
}

function Rows({ list }: { list: PartsList }) {
  const { currency } = list.cost
  const system = useUnitSystem()
  const columns: Column<Part>[] = [
    { key: 'what', name: 'Part', words: true, heading: true, of: (p) => <What part={p} system={system} /> },
    { key: 'amount', name: 'Amount', of: (p) => amountWords(p, system).replace(' ', '\u00a0') },
    { key: 'mass', name: 'Mass', of: (p) => massOf(p, system) },
    { key: 'each', name: `Each, ${currency}`, of: (p) => <Price part={p} system={system} /> },
    { key: 'cost', name: 'Cost', of: (p) => (p.cost === null ? '' : moneyWords(p.cost, currency)) },
  ]
  return (
    <div className="workshop-table">
      <Table caption="Parts in the order of assembly" columns={columns} rows={list.parts} rowKey={(p) => p.key} />
    </div>
  )
}

interface PartProps {
  part: Part
  system: UnitSystem
}

const What = ({ part, system }: PartProps) => (
  <>
    {partWords(part)}
    <small>{[sizeWords(part.size, system), part.material, STEP_TITLES[part.step]].filter(Boolean).join(' · ')}</small>
  </>
)

const PRICE = schema.shape.prices.unwrap().valueType

/** By the piece, the metre or the foot; the document has it by the metre. */
function Price({ part, system }: PartProps) {
  const { word, ofOne } = shownPartUnit(part.unit, system)
  const set = (value: number | null) =>
    tryEdit(design, `Price of ${partWords(part)}`, (lamp) =>
      withTyped(lamp, 'prices', part.key, value === null ? null : tidy(value * ofOne)),
    )
  return (
    <NumberField
      label={`Price of one ${word} of ${partWords(part)}, ${sizeWords(part.size, system)}`}
      hideLabel
      unit=""
      step={1}
      digits={2}
      min={PRICE.minValue ?? 0}
      max={(PRICE.maxValue ?? 1e7) / ofOne}
      value={part.price === null ? null : tidy(part.price / ofOne)}
      whenEmpty="–"
      onSet={set}
      onClear={() => set(null)}
    />
  )
}
