// A sink by its data sheet: resistance, heat capacity, the flow they hold for, and the largest heat.
import { cooling } from '../../lamp/power.ts'
import { ratedSinkOf } from '../../library/typicalPower.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { without, withRatedSink } from './powerEdits.ts'

const rated = cooling.shape.sink.options[3].shape

export function RatedSink() {
  return (
    <>
      <LampNumber
        label="Sink, resistance"
        unit="K/W"
        step={0.05}
        of={rated.resistanceKW}
        description="Thermal, from the whole of the plate’s back to the air around; add the joint between plate and sink"
        read={(lamp) => ratedSinkOf(lamp)?.resistanceKW ?? null}
        write={(lamp, resistanceKW) => withRatedSink(lamp, (s) => ({ ...s, resistanceKW }))}
      />
      <LampNumber
        label="Sink, heat capacity"
        unit="J/K"
        step={10}
        of={rated.heatCapacityJK}
        description="Mass × specific heat, about 900 J/K for each kilogram of aluminium; 0 where not known: it then warms at once"
        read={(lamp) => ratedSinkOf(lamp)?.heatCapacityJK ?? null}
        write={(lamp, heatCapacityJK) => withRatedSink(lamp, (s) => ({ ...s, heatCapacityJK }))}
      />
      <LampChoice
        label="Sink, flow"
        segments
        options={[
          { key: 'natural', name: 'natural' },
          { key: 'forced', name: 'fan or pump' },
        ]}
        description="The flow that the resistance holds for, as in its data sheet"
        read={(lamp) => ratedSinkOf(lamp)?.flow ?? 'natural'}
        write={(lamp, flow) => withRatedSink(lamp, (s) => ({ ...s, flow }))}
      />
      <LampNumber
        label="Sink, largest heat"
        unit="W"
        step={5}
        of={rated.maxW.unwrap()}
        whenEmpty="not known"
        description="Heat pipes dry out beyond it"
        read={(lamp) => ratedSinkOf(lamp)?.maxW ?? null}
        write={(lamp, maxW) => withRatedSink(lamp, (s) => ({ ...s, maxW }))}
        clear={(lamp) => withRatedSink(lamp, (s) => without(s, 'maxW'))}
      />
      <p className="parts-note">
        Surface, where the lamp points and the air at the fins are hidden: this resistance holds for those of the data
        sheet. The lamp keeps them for another sink.
      </p>
    </>
  )
}
