// What a lens or a cover is made of: a built-in material or one of its own, and which material its facets were cut for.

import { useContext, useState } from 'react'
import { BUILT_IN_MATERIALS, type OwnMaterial, ownMaterial } from '../../lamp/material.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { lensFocalMm } from '../../library/lensMaterial.ts'
import { LENS_MATERIALS } from '../../library/materials.ts'
import type { Piece } from '../common/piece.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { valueText } from '../common/units.ts'
import { openPart } from '../store/openParts.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Choice } from '../ui/Choice.tsx'
import { ErrorText } from './ErrorText.tsx'
import { LampChoice, LampNumber, LampText, PartName } from './fields.tsx'
import { LensAbsorption, LensIndex } from './LensMaterialCurves.tsx'
import { newOwnMaterial, ownMaterialOf, refracting } from './model/ownMaterial.ts'
import { Part } from './Part.tsx'
import { type PieceHost, usePiece } from './piece.ts'

type MaterialKey = (typeof BUILT_IN_MATERIALS)[number] | 'own'

const BUILT_IN: readonly { key: MaterialKey; name: string }[] = BUILT_IN_MATERIALS.map((key) => ({
  key,
  name: LENS_MATERIALS[key].label,
}))
const MATERIALS = [...BUILT_IN, { key: 'own', name: 'own …' }] as const

/** The lamp with this material; an own one is begun from what the piece is made of. */
function withMaterial(host: PieceHost, lamp: Lamp, material: MaterialKey): Lamp {
  const made = refracting(host.read(lamp))
  if (!made) return lamp
  const own = material === 'own' && !made.ownMaterial ? { ownMaterial: newOwnMaterial(made) } : {}
  return host.write(lamp, { material, ...own })
}

const withOwn = (host: PieceHost, lamp: Lamp, part: Partial<OwnMaterial>): Lamp => {
  const own = ownMaterialOf(host.read(lamp))
  return own ? host.write(lamp, { ownMaterial: { ...own, ...part } }) : lamp
}

export function LensMaterial() {
  const host = usePiece()
  const part = useContext(PartName)
  const material = useDesign((s) => refracting(host.read(s.lamp))?.material ?? 'pmma')
  const source = useDesign((s) => {
    const now = refracting(host.read(s.lamp))?.material
    return now && now !== 'own' ? LENS_MATERIALS[now].sources : null
  })
  const [why, setWhy] = useState<string | null>(null)
  return (
    <>
      <Choice
        label="Material"
        description="Its refraction and absorption; colours spread by its dispersion"
        value={material}
        options={MATERIALS}
        onChoose={(key: MaterialKey) => {
          setWhy(tryEdit(design, `${part}: material`, (lamp) => withMaterial(host, lamp, key)))
          if (key === 'own') openPart(`${host.id}Material`, true)
        }}
      />
      <ErrorText why={why} />
      {source && (
        <details className="parts-note">
          <summary>Where its figures come from</summary>
          <p>Index: {source.index}.</p>
          <p>Absorption: {source.absorption}.</p>
          <p>Heat: {source.temperature}</p>
        </details>
      )}
      {material === 'own' && <Own />}
    </>
  )
}

const FAMILIES = [
  { key: 'plastic', name: 'plastic' },
  { key: 'glass', name: 'glass' },
] as const

const LIMITS = [
  {
    key: 'keepBelowC',
    label: 'Bears for long',
    description:
      'Continuous service temperature of the data sheet; empty: not known, the weakest known plastic is taken',
  },
  {
    key: 'deflectionC',
    label: 'Sags at',
    description: 'Deflection under load (ISO 75); empty: not known',
  },
  {
    key: 'ignitionC',
    label: 'Ignites at',
    description: 'Ignition temperature (ISO 871); empty: not known, the easiest lit known plastic is taken',
  },
] as const

function Own() {
  const host = usePiece()
  const part = useContext(PartName)
  const ownOf = (lamp: Lamp) => ownMaterialOf(host.read(lamp))
  const family = useDesign((s) => ownOf(s.lamp)?.family ?? 'plastic')
  const name = useDesign((s) => ownOf(s.lamp)?.name ?? '')
  return (
    <Part
      of={`${host.id}Material`}
      title="Own material"
      name={host.id === 'lens' ? undefined : `Own material of ${part}`}
      summary={name}
      level={host.id === 'lens' ? 3 : 4}
      edits={part}
    >
      <LampText
        label="Its name"
        read={(lamp) => ownOf(lamp)?.name ?? ''}
        write={(lamp, name) => withOwn(host, lamp, { name })}
      />
      <LampChoice
        label="It is a"
        segments
        description="A plastic softens and burns, a glass cracks"
        options={FAMILIES}
        read={(lamp) => ownOf(lamp)?.family ?? 'plastic'}
        write={(lamp, key) => withOwn(host, lamp, { family: key })}
      />
      <LensIndex />
      <LensAbsorption />
      <LampNumber
        label="Density, kg/m³"
        unit=""
        of={ownMaterial.shape.densityKgM3}
        step={10}
        description="For the weight of the lens, and what burns of it"
        read={(lamp) => ownOf(lamp)?.densityKgM3 ?? null}
        write={(lamp, densityKgM3) => withOwn(host, lamp, { densityKgM3 })}
      />
      {LIMITS.slice(0, family === 'glass' ? 1 : 3).map(({ key, label, description }) => (
        <LampNumber
          key={key}
          label={label}
          unit="°C"
          of={ownMaterial.shape[key].unwrap()}
          step={1}
          description={description}
          whenEmpty="not known"
          read={(lamp) => ownOf(lamp)?.[key] ?? null}
          write={(lamp, v) => withOwn(host, lamp, { [key]: v })}
          clear={(lamp) => withOwn(host, lamp, { [key]: null })}
        />
      ))}
    </Part>
  )
}

/** Facets follow the material unless the builder says that they were cut for another. */
export function CutForMaterial() {
  const host = usePiece()
  const hasOwn = useDesign((s) => ownMaterialOf(host.read(s.lamp)) !== null)
  const system = useUnitSystem()
  const note = useDesign((s) => cutNote(host.read(s.lamp), system))
  return (
    <>
      <LampChoice
        label="Facets cut in"
        description="Facets are cut anew for the lens’s material; a bought sheet of another material keeps its own"
        options={[
          { key: 'this', name: 'the lens’s material' },
          ...BUILT_IN,
          ...(hasOwn ? [{ key: 'own' as const, name: 'own material' }] : []),
        ]}
        read={(lamp): MaterialKey | 'this' => {
          const lens = host.read(lamp)
          return lens?.kind === 'fresnel' ? (lens.cutFor ?? 'this') : 'this'
        }}
        write={(lamp, key) => host.write(lamp, { cutFor: key === 'this' ? undefined : key })}
      />
      {note && <p className="parts-note">{note}</p>}
    </>
  )
}

function cutNote(lens: Piece | null, system: UnitSystem): string | null {
  if (lens?.kind !== 'fresnel' || !lens.cutFor || lens.cutFor === lens.material) return null
  return `With these facets the focal length near the axis is ${valueText(lensFocalMm(lens), 'mm', system, 0)}, not ${valueText(lens.focalMm, 'mm', system)}.`
}
