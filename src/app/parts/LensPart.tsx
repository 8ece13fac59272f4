import { useState } from 'react'
import { numberText, unitLabel } from '../common/units.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Choice } from '../ui/Choice.tsx'
import { newLens } from './defaults.ts'
import { ErrorText } from './ErrorText.tsx'
import { LensGuide } from './LensGuide.tsx'
import { Part } from './Part.tsx'
import { PieceFields } from './PieceFields.tsx'

const KINDS = [
  { key: 'none', name: 'none' },
  { key: 'fresnel', name: 'Fresnel' },
  { key: 'solid', name: 'solid' },
  { key: 'ideal', name: 'ideal' },
] as const

export function LensPart() {
  const system = useUnitSystem()
  const mm = (v: number) => numberText(v, 'mm', system, 2)
  const summary = useDesign(({ lamp: { lens } }) =>
    lens
      ? `${mm(lens.diameterMm)}${lens.heightMm === undefined ? '' : ` × ${mm(lens.heightMm)}`} ${unitLabel('mm', system)} at ${mm(lens.zMm)}`
      : 'none',
  )
  return (
    <Part of="lens" title="Lens" summary={summary}>
      {FIELDS}
    </Part>
  )
}

function Fields() {
  const kind = useDesign((s) => s.lamp.lens?.kind ?? 'none')
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <Choice
        label="Kind"
        segments
        value={kind}
        options={KINDS}
        onChoose={(key) =>
          setWhy(
            tryEdit(design, `Lens: ${key}`, (lamp) => ({ ...lamp, lens: key === 'none' ? null : newLens(lamp, key) })),
          )
        }
      />
      <ErrorText why={why} />
      {kind !== 'none' && <PieceFields kind={kind} />}
      {kind === 'fresnel' && <LensGuide />}
    </>
  )
}
/** A constant element: while the lens is dragged, only the fields that change render. */
const FIELDS = <Fields />
