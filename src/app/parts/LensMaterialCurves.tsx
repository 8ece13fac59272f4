// Index and absorption of a material of a lens's or cover's own: by the numbers that a data sheet gives.
import { useContext, useState } from 'react'
import { type OwnMaterial, ownMaterial } from '../../lamp/material.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Choice } from '../ui/Choice.tsx'
import { ErrorText } from './ErrorText.tsx'
import { LampNumber, PartName } from './fields.tsx'
import {
  type AbsorptionBy,
  absorptionGivenBy,
  type IndexBy,
  indexGivenBy,
  indexWords,
  ownMaterialOf,
  passesWords,
} from './model/ownMaterial.ts'
import { PairTable } from './PairTable.tsx'
import { type PieceHost, usePiece } from './piece.ts'

const [abbe, cauchy, sellmeier, indexTable] = ownMaterial.shape.index.options
const [oneValue, absorptionTable, transmittance] = ownMaterial.shape.absorption.options

const change = (host: PieceHost, lamp: Lamp, make: (own: OwnMaterial) => Partial<OwnMaterial>): Lamp => {
  const own = ownMaterialOf(host.read(lamp))
  return own ? host.write(lamp, { ownMaterial: { ...own, ...make(own) } }) : lamp
}

const INDEX_WAYS: readonly { key: IndexBy; name: string }[] = [
  { key: 'abbe', name: 'Abbe number' },
  { key: 'cauchy', name: 'Cauchy’s coefficients' },
  { key: 'sellmeier', name: 'Sellmeier’s coefficients' },
  { key: 'table', name: 'a table over wavelength' },
]
const ABSORPTION_WAYS: readonly { key: AbsorptionBy; name: string }[] = [
  { key: 'value', name: 'one value per mm' },
  { key: 'table', name: 'a table per mm' },
  { key: 'transmittance', name: 'internal transmittance' },
]

type IndexKey = 'nd' | 'abbe' | 'a' | 'bUm2' | 'cUm4'
const INDEX_FIELDS: Record<
  'abbe' | 'cauchy',
  readonly { key: IndexKey; label: string; step: number; description: string }[]
> = {
  abbe: [
    { key: 'nd', label: 'Index at 587.6 nm', step: 0.001, description: 'n_d of the data sheet' },
    { key: 'abbe', label: 'Abbe number', step: 0.1, description: 'ν_d = (n_d − 1)/(n_F − n_C); small: colours spread' },
  ],
  cauchy: [
    { key: 'a', label: 'Cauchy A', step: 0.001, description: 'n = A + B/λ² + C/λ⁴, λ in µm' },
    { key: 'bUm2', label: 'Cauchy B, µm²', step: 0.0001, description: 'n = A + B/λ² + C/λ⁴, λ in µm' },
    { key: 'cUm4', label: 'Cauchy C, µm⁴', step: 0.00001, description: 'n = A + B/λ² + C/λ⁴, λ in µm' },
  ],
}
const OF = { ...abbe.shape, ...cauchy.shape }

const numberOf = (host: PieceHost, lamp: Lamp, part: 'index' | 'absorption', key: string): number | null => {
  const value = (ownMaterialOf(host.read(lamp))?.[part] as Record<string, unknown> | undefined)?.[key]
  return typeof value === 'number' ? value : null
}

const withIndex = (host: PieceHost, lamp: Lamp, part: object): Lamp =>
  change(host, lamp, (own) => ({ index: { ...own.index, ...part } as OwnMaterial['index'] }))
const withAbsorption = (host: PieceHost, lamp: Lamp, part: object): Lamp =>
  change(host, lamp, (own) => ({ absorption: { ...own.absorption, ...part } as OwnMaterial['absorption'] }))

const WAVELENGTH = { key: 'wavelengthNm', name: 'nm', unit: 'nm', step: 5 } as const

export function LensIndex() {
  const host = usePiece()
  const part = useContext(PartName)
  const by = useDesign((s) => ownMaterialOf(host.read(s.lamp))?.index.by ?? 'abbe')
  const note = useDesign((s) => {
    const own = ownMaterialOf(host.read(s.lamp))
    return own ? indexWords(own) : ''
  })
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <Choice
        label="Index by"
        value={by}
        options={INDEX_WAYS}
        onChoose={(key: IndexBy) =>
          setWhy(
            tryEdit(design, `${part}: index by`, (lamp) =>
              change(host, lamp, (own) => ({ index: indexGivenBy(own, key) })),
            ),
          )
        }
      />
      <ErrorText why={why} />
      {(by === 'abbe' || by === 'cauchy') &&
        INDEX_FIELDS[by].map(({ key, ...field }) => (
          <LampNumber
            {...field}
            key={key}
            unit=""
            digits={6}
            of={OF[key]}
            read={(lamp) => numberOf(host, lamp, 'index', key)}
            write={(lamp, v) => withIndex(host, lamp, { [key]: v })}
          />
        ))}
      {by === 'sellmeier' && <SellmeierTerms />}
      {by === 'table' && <IndexTable />}
      <p className="parts-note">{note}</p>
    </>
  )
}

function SellmeierTerms() {
  const host = usePiece()
  const term = sellmeier.shape.terms.element.shape
  return (
    <PairTable
      title="Sellmeier terms"
      first={{ key: 'b', name: 'B', unit: '', of: term.b, step: 0.001 }}
      second={{ key: 'cUm2', name: 'C, µm²', unit: '', of: term.cUm2, step: 0.0001 }}
      least={1}
      add={(rows) => [...rows, { b: 0, cUm2: 100 }]}
      read={(lamp) => {
        const index = ownMaterialOf(host.read(lamp))?.index
        return index?.by === 'sellmeier' ? index.terms : []
      }}
      write={(lamp, terms) => withIndex(host, lamp, { terms })}
    />
  )
}

function IndexTable() {
  const host = usePiece()
  const row = indexTable.shape.rows.element.shape
  return (
    <PairTable
      title="Index over wavelength"
      first={{ ...WAVELENGTH, of: row.wavelengthNm }}
      second={{ key: 'index', name: 'n', unit: '', of: row.index, step: 0.001 }}
      least={1}
      read={(lamp) => {
        const index = ownMaterialOf(host.read(lamp))?.index
        return index?.by === 'table' ? index.rows : []
      }}
      write={(lamp, rows) => withIndex(host, lamp, { rows })}
    />
  )
}

export function LensAbsorption() {
  const host = usePiece()
  const part = useContext(PartName)
  const by = useDesign((s) => ownMaterialOf(host.read(s.lamp))?.absorption.by ?? 'value')
  const note = useDesign((s) => {
    const piece = host.read(s.lamp)
    const own = ownMaterialOf(piece)
    return own && piece && 'thicknessMm' in piece ? passesWords(own, piece.thicknessMm) : ''
  })
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <Choice
        label="Absorption by"
        description="Internal: without what the surfaces reflect"
        value={by}
        options={ABSORPTION_WAYS}
        onChoose={(key: AbsorptionBy) =>
          setWhy(
            tryEdit(design, `${part}: absorption by`, (lamp) =>
              change(host, lamp, (own) => ({ absorption: absorptionGivenBy(own, key) })),
            ),
          )
        }
      />
      <ErrorText why={why} />
      {by === 'value' && (
        <LampNumber
          label="Absorption per mm"
          unit=""
          digits={6}
          of={oneValue.shape.perMm}
          step={0.001}
          description="a in exp(−a · way); acrylic has 0.004"
          read={(lamp) => numberOf(host, lamp, 'absorption', 'perMm')}
          write={(lamp, perMm) => withAbsorption(host, lamp, { perMm })}
        />
      )}
      {by === 'transmittance' && (
        <LampNumber
          label="Measured over"
          unit="mm"
          of={transmittance.shape.thicknessMm}
          step={1}
          description="Thickness that the internal transmittance holds for"
          read={(lamp) => numberOf(host, lamp, 'absorption', 'thicknessMm')}
          write={(lamp, thicknessMm) => withAbsorption(host, lamp, { thicknessMm })}
        />
      )}
      {by === 'table' && <AbsorptionTable />}
      {by === 'transmittance' && <TransmittanceTable />}
      <p className="parts-note">{note}</p>
    </>
  )
}

function AbsorptionTable() {
  const host = usePiece()
  const row = absorptionTable.shape.rows.element.shape
  return (
    <PairTable
      title="Absorption over wavelength"
      first={{ ...WAVELENGTH, of: row.wavelengthNm }}
      second={{ key: 'perMm', name: 'Per mm', unit: '', of: row.perMm, step: 0.001 }}
      least={1}
      read={(lamp) => {
        const absorption = ownMaterialOf(host.read(lamp))?.absorption
        return absorption?.by === 'table' ? absorption.rows : []
      }}
      write={(lamp, rows) => withAbsorption(host, lamp, { rows })}
    />
  )
}

function TransmittanceTable() {
  const host = usePiece()
  const row = transmittance.shape.rows.element.shape
  return (
    <PairTable
      title="Internal transmittance"
      first={{ ...WAVELENGTH, of: row.wavelengthNm }}
      second={{ key: 'share', name: 'Passes', unit: 'share', of: row.share, step: 0.001 }}
      least={1}
      read={(lamp) => {
        const absorption = ownMaterialOf(host.read(lamp))?.absorption
        return absorption?.by === 'transmittance' ? absorption.rows : []
      }}
      write={(lamp, rows) => withAbsorption(host, lamp, { rows })}
    />
  )
}
