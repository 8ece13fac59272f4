// Ultraviolet of an emitter: not traced, read for eyes and skin.
import { spectrum } from '../../lamp/parts.ts'
import type { Lamp, Spectrum } from '../../lamp/schema.ts'
import { useDesign } from '../store/stores.ts'
import { withEmitter } from './edits.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import {
  hasUltraviolet,
  ULTRAVIOLET_NM,
  ultravioletAt,
  withUltraviolet,
  withUltravioletAt,
} from './model/ultraviolet.ts'
import { Part } from './Part.tsx'

const sample = spectrum.options[3].shape.ultraviolet.unwrap().element

export function EmitterUltraviolet({ id }: { id: string }) {
  const of = (lamp: Lamp): Spectrum => (lamp.emitterTypes.find((e) => e.id === id) ?? lamp.emitterTypes[0]!).spectrum
  const stated = useDesign((s) => hasUltraviolet(of(s.lamp)))
  return (
    <>
      <LampChoice
        label="Ultraviolet"
        segments
        description="Below 380 nm: not traced, but read for eyes and skin. Given, it starts everywhere as strong as at 380 nm"
        options={[
          { key: 'unknown', name: 'not known' },
          { key: 'given', name: 'given' },
        ]}
        read={(lamp) => (hasUltraviolet(of(lamp)) ? 'given' : 'unknown')}
        write={(lamp, key) => withEmitter(lamp, id, { spectrum: withUltraviolet(of(lamp), key === 'given') })}
      />
      {stated && (
        <Part of="emitterUltraviolet" title="Ultraviolet samples" summary="300 to 375 nm" level={3} edits="Emitter">
          <p className="parts-note">Power over wavelength. The peak of the light is 1.</p>
          {ULTRAVIOLET_NM.map((nm, i) => (
            <LampNumber
              key={nm}
              label={`At ${nm} nm`}
              unit=""
              step={0.001}
              of={sample}
              description="Of the peak of the light"
              read={(lamp) => ultravioletAt(of(lamp), i)}
              write={(lamp, v) => withEmitter(lamp, id, { spectrum: withUltravioletAt(of(lamp), i, v) })}
            />
          ))}
        </Part>
      )}
    </>
  )
}
