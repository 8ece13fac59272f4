// Thermal cut-out and fold-back. Each is absent until it is switched on.

import { USUAL_LAG_S } from '../../heat/sensor.ts'
import { LIMITS } from '../../lamp/limits.ts'
import { cutOut, foldBack, sensor } from '../../lamp/power.ts'
import type { Lamp, Power, Protection } from '../../lamp/schema.ts'
import { design } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Toggle } from '../ui/Toggle.tsx'
import { Part } from './Part.tsx'
import { withCutOut, withFoldBack, withPower, withSensor } from './powerEdits.ts'
import { PowerNumber, usePowerValue } from './powerFields.tsx'

const CUT_OUT: NonNullable<Protection['cutOut']> = { openC: 80, closeC: 65 }
const FOLD_BACK: NonNullable<Protection['foldBack']> = { startC: 60, endC: 80, leastShare: 0.3 }

const SENSOR: NonNullable<Protection['sensor']> = { xMm: 0, yMm: 0, lagS: USUAL_LAG_S }
const sensorShape = sensor.shape
const PLACES = [
  { key: 'xMm', label: 'Sensor at x', unit: 'mm', step: 1 },
  { key: 'yMm', label: 'Sensor at y', unit: 'mm', step: 1 },
  {
    key: 'lagS',
    label: 'Lag behind the plate',
    unit: 's',
    step: 1,
    description: 'Time constant; 5 to 20 s for one that is screwed or glued on (common practice)',
  },
] as const

export function PowerProtection() {
  const { protection = {} } = usePowerValue()
  const { cutOut: out, foldBack: fold, sensor: place } = protection
  const switchOn = (what: string, on: boolean, change: (p: Power) => Power) =>
    tryEdit(design, `Protection: ${what} ${on ? 'added' : 'removed'}`, (lamp: Lamp) => withPower(lamp, change))
  const names = [...(out ? ['cut-out'] : []), ...(fold ? ['fold-back'] : [])]
  return (
    <Part
      of="power-protection"
      title="Protection"
      summary={names.length > 0 ? names.join(', ') : 'none'}
      level={3}
      edits="Protection"
    >
      <p className="parts-note">Findings, the worst-case table and the traced light take both as failed.</p>
      <Toggle
        label="Thermal cut-out"
        value={out !== undefined}
        description="A thermostat on the plate opens every channel"
        onChange={(on) => switchOn('cut-out', on, (p) => withCutOut(p, on ? CUT_OUT : null))}
      />
      {out && <CutOut />}
      <Toggle
        label="Fold-back"
        value={fold !== undefined}
        description="An NTC on the plate takes current away as it warms, and gives it back"
        onChange={(on) => switchOn('fold-back', on, (p) => withFoldBack(p, on ? FOLD_BACK : null))}
      />
      {fold && <FoldBack />}
      {(out || fold) && (
        <Toggle
          label="Place of the sensor"
          value={place !== undefined}
          description="Not known: runs take the plate’s hottest place, findings also the coolest, slowly followed"
          onChange={(on) => switchOn('place of the sensor', on, (p) => withSensor(p, on ? SENSOR : null))}
        />
      )}
      {(out || fold) && place && <SensorPlace />}
    </Part>
  )
}

function CutOut() {
  const of = (p: Power) => p.protection?.cutOut ?? CUT_OUT
  return (
    <>
      <PowerNumber
        label="Opens at"
        unit="°C"
        step={1}
        of={cutOut.shape.openC}
        get={(p) => of(p).openC}
        set={(p, openC) => withCutOut(p, { ...of(p), openC })}
      />
      <PowerNumber
        label="Closes again at"
        unit="°C"
        step={1}
        of={cutOut.shape.closeC.unwrap()}
        description={`At least ${LIMITS.protectionK} K below; empty: it stays open until the lamp is switched off`}
        whenEmpty="stays open"
        get={(p) => of(p).closeC ?? null}
        set={(p, closeC) => withCutOut(p, { ...of(p), closeC })}
        clear={(p) => withCutOut(p, { openC: of(p).openC })}
      />
    </>
  )
}

function SensorPlace() {
  const of = (p: Power) => p.protection?.sensor ?? SENSOR
  return (
    <>
      {PLACES.map(({ key, ...f }) => (
        <PowerNumber
          key={key}
          {...f}
          of={sensorShape[key]}
          get={(p) => of(p)[key]}
          set={(p, v) => withSensor(p, { ...of(p), [key]: v })}
        />
      ))}
    </>
  )
}

function FoldBack() {
  const of = (p: Power) => p.protection?.foldBack ?? FOLD_BACK
  return (
    <>
      <PowerNumber
        label="Folds back from"
        unit="°C"
        step={1}
        of={foldBack.shape.startC}
        description="All of the mode’s current up to here"
        get={(p) => of(p).startC}
        set={(p, startC) => withFoldBack(p, { ...of(p), startC })}
      />
      <PowerNumber
        label="Folded back at"
        unit="°C"
        step={1}
        of={foldBack.shape.endC}
        description="The least share from here on, a straight line between"
        get={(p) => of(p).endC}
        set={(p, endC) => withFoldBack(p, { ...of(p), endC })}
      />
      <PowerNumber
        label="Least share"
        unit="share"
        step={0.05}
        of={foldBack.shape.leastShare}
        description="Of the mode’s current"
        get={(p) => of(p).leastShare}
        set={(p, leastShare) => withFoldBack(p, { ...of(p), leastShare })}
      />
    </>
  )
}
