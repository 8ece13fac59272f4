// What the lens is made of: a built-in material or the lamp's own, and which material its facets were cut for.
import { useState } from 'react'
import { BUILT_IN_MATERIALS, type OwnMaterial, ownMaterial } from '../../lamp/material.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { lensFocalMm } from '../../library/lensMaterial.ts'
import { LENS_MATERIALS } from '../../library/materials.ts'
import { formatNumber } from '../common/units.ts'
import { openPart } from '../store/openParts.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Choice } from '../ui/Choice.tsx'
import { ErrorText } from './ErrorText.tsx'
import { withLens } from './edits.ts'
import { LampChoice, LampNumber, LampText } from './fields.tsx'
import { LensAbsorption, LensIndex } from './LensMaterialCurves.tsx'
import { newOwnMaterial, ownMaterialOf, refractingLens } from './model/ownMaterial.ts'
import { Part } from './Part.tsx'

type MaterialKey = (typeof BUILT_IN_MATERIALS)[number] | 'own'

const BUILT_IN: readonly { key: MaterialKey; name: string }[] = BUILT_IN_MATERIALS.map((key) => ({
  key,
  name: LENS_MATERIALS[key].label,
}))
const MATERIALS = [...BUILT_IN, { key: 'own', name: 'own …' }] as const

/** The lamp with this material; an own one is begun from what the lens is made of. */
function withMaterial(lamp: Lamp, material: MaterialKey): Lamp {
  const lens = refractingLens(lamp)
  if (!lens) return lamp
  const own = material === 'own' && !lens.ownMaterial ? { ownMaterial: newOwnMaterial(lens) } : {}
  return withLens(lamp, { material, ...own })
}

const withOwn = (lamp: Lamp, part: Partial<OwnMaterial>): Lamp => {
  const own = ownMaterialOf(lamp)
  return own ? withLens(lamp, { ownMaterial: { ...own, ...part } }) : lamp
}

export function LensMaterial() {
  const material = useDesign((s) => refractingLens(s.lamp)?.material ?? 'pmma')
  const source = useDesign((s) => {
    const now = refractingLens(s.lamp)?.material
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
          setWhy(tryEdit(design, 'Lens: material', (lamp) => withMaterial(lamp, key)))
          if (key === 'own') openPart('lensMaterial', true)
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
  const family = useDesign((s) => ownMaterialOf(s.lamp)?.family ?? 'plastic')
  const name = useDesign((s) => ownMaterialOf(s.lamp)?.name ?? '')
  return (
    <Part of="lensMaterial" title="Own material" summary={name} level={3} edits="Lens">
      <LampText
        label="Its name"
        read={(lamp) => ownMaterialOf(lamp)?.name ?? ''}
        write={(lamp, name) => withOwn(lamp, { name })}
      />
      <LampChoice
        label="It is a"
        segments
        description="A plastic softens and burns, a glass cracks"
        options={FAMILIES}
        read={(lamp) => ownMaterialOf(lamp)?.family ?? 'plastic'}
        write={(lamp, key) => withOwn(lamp, { family: key })}
      />
      <LensIndex />
      <LensAbsorption />
      <LampNumber
        label="Density, kg/m³"
        unit=""
        of={ownMaterial.shape.densityKgM3}
        step={10}
        description="For the weight of the lens, and what burns of it"
        read={(lamp) => ownMaterialOf(lamp)?.densityKgM3 ?? null}
        write={(lamp, densityKgM3) => withOwn(lamp, { densityKgM3 })}
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
          read={(lamp) => ownMaterialOf(lamp)?.[key] ?? null}
          write={(lamp, v) => withOwn(lamp, { [key]: v })}
          clear={(lamp) => withOwn(lamp, { [key]: null })}
        />
      ))}
    </Part>
  )
}

/** 'this': the facets follow the lens's own material again. */
function withCutFor(lamp: Lamp, key: MaterialKey | 'this'): Lamp {
  if (key !== 'this') return withLens(lamp, { cutFor: key })
  if (lamp.lens?.kind !== 'fresnel') return lamp
  const { cutFor: _, ...lens } = lamp.lens
  return { ...lamp, lens }
}

/** Facets follow the material unless the builder says that they were cut for another. */
export function CutForMaterial() {
  const hasOwn = useDesign((s) => ownMaterialOf(s.lamp) !== null)
  const note = useDesign((s) => cutNote(s.lamp))
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
        read={({ lens }): MaterialKey | 'this' => (lens?.kind === 'fresnel' ? (lens.cutFor ?? 'this') : 'this')}
        write={withCutFor}
      />
      {note && <p className="parts-note">{note}</p>}
    </>
  )
}

function cutNote({ lens }: Lamp): string | null {
  if (lens?.kind !== 'fresnel' || !lens.cutFor || lens.cutFor === lens.material) return null
  return `With these facets the focal length near the axis is ${formatNumber(lensFocalMm(lens), 0)} mm, not ${formatNumber(lens.focalMm)} mm.`
}
