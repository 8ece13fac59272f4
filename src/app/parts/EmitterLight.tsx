// Light of a bare emitter: size of the source, angular profile, colour.
import { emitterType, spectrum } from '../../lamp/parts.ts'
import type { EmitterType, Lamp } from '../../lamp/schema.ts'
import { useDesign } from '../store/stores.ts'
import { newSpectrum, type SpectrumKey, spectrumKey } from './defaults.ts'
import { EmitterAngle } from './EmitterAngle.tsx'
import { EmitterUltraviolet } from './EmitterUltraviolet.tsx'
import { withEmitter } from './edits.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { EmitterRaysRows } from './RayFile.tsx'

const [rectangle, disc] = emitterType.shape.source.options
const mono = spectrum.options[2]

const at = (lamp: Lamp, id: string): EmitterType => lamp.emitterTypes.find((e) => e.id === id) ?? lamp.emitterTypes[0]!

const SPECTRA: readonly { key: SpectrumKey; name: string }[] = [
  { key: '3000', name: 'White, 3000 K class' },
  { key: '4000', name: 'White, 4000 K class' },
  { key: '5000', name: 'White, 5000 K class' },
  { key: '6500', name: 'White, 6500 K class' },
  { key: 'mono', name: 'One wavelength' },
  { key: 'equalEnergy', name: 'Equal energy (check)' },
  { key: 'table', name: 'Samples, with UV' },
]

export function EmitterLight({ id }: { id: string }) {
  const type = useDesign((s) => at(s.lamp, id))
  const { rays } = type
  if (rays)
    return (
      <>
        <EmitterRaysRows id={id} type={type} rays={rays} />
        <Colour id={id} ownWavelengths={rays.ownWavelengths} />
      </>
    )
  return (
    <>
      <Source id={id} />
      <EmitterAngle id={id} />
      <Colour id={id} ownWavelengths={false} />
    </>
  )
}

function Source({ id }: { id: string }) {
  const shape = useDesign((s) => at(s.lamp, id).source.shape)
  return (
    <>
      <LampChoice
        label="Source"
        segments
        description="Shape of the lit area; the smaller it is, the narrower an optic can make the beam"
        options={[
          { key: 'rectangle', name: 'rectangle' },
          { key: 'disc', name: 'disc' },
        ]}
        read={(lamp) => at(lamp, id).source.shape}
        write={(lamp, key) => {
          const old = at(lamp, id).source
          const sizeMm = old.shape === 'disc' ? old.diameterMm : old.widthMm
          const source =
            key === 'disc'
              ? ({ shape: 'disc', diameterMm: sizeMm } as const)
              : ({ shape: 'rectangle', widthMm: sizeMm, heightMm: sizeMm } as const)
          return withEmitter(lamp, id, { source })
        }}
      />
      {shape === 'rectangle' ? (
        (['widthMm', 'heightMm'] as const).map((key) => (
          <LampNumber
            key={key}
            label={key === 'widthMm' ? 'Source width' : 'Source height'}
            unit="mm"
            step={0.1}
            of={rectangle.shape[key]}
            description="Of the lit area; light from off its middle leaves an optic at an angle"
            read={(lamp) => {
              const { source } = at(lamp, id)
              return source.shape === 'rectangle' ? source[key] : null
            }}
            write={(lamp, v) =>
              withEmitter(lamp, id, { source: { ...at(lamp, id).source, [key]: v } as EmitterType['source'] })
            }
          />
        ))
      ) : (
        <LampNumber
          label="Source diameter"
          unit="mm"
          step={0.1}
          of={disc.shape.diameterMm}
          description="Of the lit area; light from off its middle leaves an optic at an angle"
          read={(lamp) => {
            const { source } = at(lamp, id)
            return source.shape === 'disc' ? source.diameterMm : null
          }}
          write={(lamp, diameterMm) => withEmitter(lamp, id, { source: { shape: 'disc', diameterMm } })}
        />
      )}
    </>
  )
}

function Colour({ id, ownWavelengths }: { id: string; ownWavelengths: boolean }) {
  const kind = useDesign((s) => at(s.lamp, id).spectrum.kind)
  return (
    <>
      <LampChoice
        label="Spectrum"
        description={
          ownWavelengths
            ? 'Of the rays, each of which has its own wavelength; read for ultraviolet and where an optic by data sheet is in their place'
            : 'Sets watts for each lumen, and how the lens spreads the colours. Samples: the present light, every 5 nm'
        }
        options={SPECTRA}
        read={(lamp) => spectrumKey(at(lamp, id).spectrum)}
        write={(lamp, key) => withEmitter(lamp, id, { spectrum: newSpectrum(key, at(lamp, id).spectrum) })}
      />
      {kind === 'mono' && (
        <LampNumber
          label="Wavelength"
          unit="nm"
          step={1}
          of={mono.shape.wavelengthNm}
          description="One pure colour; for checks and coloured emitters"
          read={(lamp) => {
            const { spectrum } = at(lamp, id)
            return spectrum.kind === 'mono' ? spectrum.wavelengthNm : null
          }}
          write={(lamp, wavelengthNm) => withEmitter(lamp, id, { spectrum: { kind: 'mono', wavelengthNm } })}
        />
      )}
      {kind === 'table' && <EmitterUltraviolet id={id} />}
    </>
  )
}
