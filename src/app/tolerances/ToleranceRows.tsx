// The lamp's tolerances: a tick, ± and distribution for each that it has something for.

import { useMemo } from 'react'
import { TOLERANCE_NAMES, thingsOf } from '../../job/tolerances/build.ts'
import type { Tolerance, ToleranceName } from '../../lamp/schema.ts'
import { tolerancesOf, withTolerance } from '../../library/typicalTolerances.ts'
import { TOLERANCE_WORDS, TYPICAL_NOTE } from '../../report/tolerances.ts'
import { shownText } from '../common/decimalMark.ts'
import { shownUnit } from '../common/unitSystem.ts'
import { formatNumber, parseQuantity } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { unitSystem, useUnitSystem } from '../store/unitSystem.ts'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { TextField } from '../ui/TextField.tsx'
import { Toggle } from '../ui/Toggle.tsx'

const SPREADS: readonly { key: Tolerance['spread']; name: string }[] = [
  { key: 'normal', name: 'normal, ± is 2 σ' },
  { key: 'uniform', name: 'uniform, ± is the end' },
  { key: 'measured', name: 'as measured' },
]

const edit = (name: ToleranceName, what: string, tolerance: Tolerance): string | null =>
  tryEdit(design, `Tolerance: ${TOLERANCE_WORDS[name].name.toLowerCase()}, ${what}`, (lamp) =>
    withTolerance(lamp, name, tolerance),
  )

export function ToleranceRows() {
  const lamp = useDesign((s) => s.lamp)
  const all = tolerancesOf(lamp)
  const { boards, boardTypes, opticTypes, tunnel, lens } = lamp
  // biome-ignore lint/correctness/useExhaustiveDependencies: what a lamp has hangs on these alone
  const names = useMemo(
    () => TOLERANCE_NAMES.filter((name) => thingsOf(lamp, name) > 0),
    [boards, boardTypes, opticTypes, tunnel, lens],
  )
  return (
    <fieldset className="tolerances-rows">
      <legend className="ui-hidden">Tolerances of this lamp</legend>
      {names.map((name) => (
        <Row key={name} name={name} tolerance={all[name]} />
      ))}
      {!lamp.tolerances && <p className="tolerances-quiet">{TYPICAL_NOTE}</p>}
    </fieldset>
  )
}

function Row({ name, tolerance }: { name: ToleranceName; tolerance: Tolerance }) {
  const { name: called, unit, what } = TOLERANCE_WORDS[name]
  return (
    <div className="tolerances-row" data-off={!tolerance.on || undefined}>
      <Toggle
        label={called}
        description={what}
        value={tolerance.on}
        onChange={(on) => edit(name, on ? 'on' : 'off', { ...tolerance, on })}
      />
      {tolerance.spread === 'measured' ? (
        <Measured name={name} tolerance={tolerance} />
      ) : (
        <NumberField
          label={`${called}, ±`}
          hideLabel
          value={tolerance.plusMinus}
          unit={unit}
          min={0}
          max={Infinity}
          step={unit === 'share' ? 0.01 : unit === 'deg' ? 0.1 : 0.5}
          isDisabled={!tolerance.on}
          description={what}
          onSet={(plusMinus) => edit(name, '±', { ...tolerance, plusMinus })}
        />
      )}
      <Choice
        label={`${called}, distribution`}
        value={tolerance.spread}
        options={SPREADS}
        isDisabled={!tolerance.on}
        onChoose={(spread) => edit(name, 'distribution', withSpread(tolerance, spread))}
      />
    </div>
  )
}

/** Half of ± is where measured ones begin: a list of three to be replaced. */
function withSpread(tolerance: Tolerance, spread: Tolerance['spread']): Tolerance {
  const { on } = tolerance
  const far = tolerance.spread === 'measured' ? Math.max(...tolerance.deviations.map(Math.abs)) : tolerance.plusMinus
  return spread === 'measured' ? { on, spread, deviations: [-far, 0, far] } : { on, spread, plusMinus: far }
}

type MeasuredTolerance = Extract<Tolerance, { spread: 'measured' }>

function Measured({ name, tolerance }: { name: ToleranceName; tolerance: MeasuredTolerance }) {
  const { name: called, unit } = TOLERANCE_WORDS[name]
  const system = useUnitSystem()
  const { toShown } = shownUnit(unit, system)
  return (
    <TextField
      label={`${called}, measured deviations`}
      hideLabel
      description="How far each measured one lies from what is drawn, with ; between; each is as likely as the others"
      value={tolerance.deviations.map((d) => shownText(formatNumber(toShown(d)))).join('; ')}
      onSet={(text) => {
        const deviations: number[] = []
        for (const one of text.split(text.includes(';') ? ';' : /\s+/).filter((part) => part.trim() !== '')) {
          const parsed = parseQuantity(one, unit, unitSystem())
          if (!parsed.ok) return parsed.why
          deviations.push(parsed.value)
        }
        if (deviations.length === 0) return 'Type at least one deviation.'
        return edit(name, 'measured', { ...tolerance, deviations })
      }}
    />
  )
}
