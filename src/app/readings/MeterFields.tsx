// The meter of all sets: what it leaves open.

import type { Meter } from '../../lamp/readings.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { CLASS_ASSUMED, meterDoubt } from '../../readings/meter.ts'
import { COVERAGE } from '../../readings/uncertainty.ts'
import { toDigits } from '../common/format.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { TextField } from '../ui/TextField.tsx'

const CLASSES = [
  { key: 'A', name: 'A' },
  { key: 'B', name: 'B' },
  { key: 'C', name: 'C' },
] as const

const withMeter = (lamp: Lamp, part: Meter): Lamp => ({
  ...lamp,
  readings: { sets: [], ...lamp.readings, meter: { ...lamp.readings?.meter, ...part } },
})

export function MeterFields() {
  const meter = useDesign((s) => s.lamp.readings?.meter)
  const sets = useDesign((s) => s.lamp.readings?.sets)
  const own = (sets ?? []).filter((s) => s.meter && s.kind !== 'running').map((s) => s.id)
  const set = (label: string, part: Meter) => tryEdit(design, label, (lamp) => withMeter(lamp, part))
  const { scale } = meterDoubt(meter)
  return (
    <section className="readings-meter" aria-label="Meter">
      <div className="readings-row">
        <TextField
          label="Meter"
          value={meter?.name ?? ''}
          maxLength={200}
          description="Its name and number, for the record"
          onSet={(name) => set('Meter’s name', { name })}
        />
        <Choice
          label="Class"
          segments
          value={meter?.class ?? CLASS_ASSUMED}
          options={CLASSES}
          description="Quality class of DIN 5032-7: limits of colour and direction. C where nothing is known."
          onChoose={(name) => set('Meter’s class', { class: name })}
        />
        <NumberField
          label="Calibrated to ±"
          value={meter?.calibrationPct ?? null}
          whenEmpty="not stated"
          unit="%"
          min={0}
          max={100}
          step={1}
          description="Of its certificate, k = 2"
          onSet={(calibrationPct) => set('Meter’s calibration', { calibrationPct })}
        />
        <NumberField
          label="Shows up to"
          value={meter?.maxLx ?? null}
          whenEmpty="not stated"
          unit="lx"
          min={0}
          max={1e9}
          step={1000}
          description="The end of its range"
          onSet={(maxLx) => set('Meter’s range', { maxLx })}
        />
      </div>
      <p className="readings-quiet">
        All of its readings together are known to ± {toDigits(100 * COVERAGE * scale, 2)} %: calibration, and white LEDs
        against the meter’s colour response.
        {own.length > 0 && ` Read with a meter of its own, which counts instead: ${own.join(', ')}.`}
      </p>
    </section>
  )
}
