// Solids: the whole lamp for other programs, and what is printed, cut to pieces that fit the printer.
import { lazy, Suspense, useEffect, useMemo, useState } from 'react'
import { solidsInWorker } from '../../job/solids/client.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { allInSystem, inSystem } from '../../num/quantity.ts'
import { type ListedPart, listParts, type MadePart, type PartName } from '../../solids/parts.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import { unitSystem, useUnitSystem } from '../store/unitSystem.ts'
import { workshop } from '../store/workshop.ts'
import { Button } from '../ui/Button.tsx'
import { SavedWords } from './SavedWords.tsx'
import { SheetList } from './SheetList.tsx'
import { saving } from './saving.ts'
import { useLampAtRest } from './useLampAtRest.ts'

// three is large, so it is not part of the initial bundle.
const MeshView = lazy(() => import('./MeshView.tsx'))

export function SolidsPane() {
  const { lamp, isCurrent } = useLampAtRest()
  const system = useUnitSystem()
  const parts = useMemo(() => allInSystem(listParts(lamp), system), [lamp, system])
  const [chosen, choose] = useState<PartName>('assembly')
  const part = parts.find((p) => p.name === chosen)
  return (
    <div className="workshop-split">
      <SheetList
        label="Solids of this lamp"
        rows={parts.map((p) => ({ ...p, words: p.printed ? 'to print' : 'for other programs' }))}
        chosen={chosen}
        onChoose={(name) => {
          choose(name as PartName)
          workshop.setState({ saved: null })
        }}
      />
      {part && <Shown key={part.name} lamp={lamp} part={part} isCurrent={isCurrent} />}
    </div>
  )
}

function Shown({ lamp, part, isCurrent }: { lamp: Lamp; part: ListedPart; isCurrent: boolean }) {
  const made = useMeshes(lamp, part)
  const system = useUnitSystem()
  const why = part.ok ? (made === null || made.ok ? null : inSystem(made.why, system)) : part.why
  if (why)
    return (
      <div className="workshop-shown">
        <p role="alert">
          <strong>{part.title}</strong> can’t be made. {why}
        </p>
      </div>
    )
  return (
    <div className="workshop-shown">
      <div className="workshop-row">
        <Files lamp={lamp} part={part} isReady={isCurrent} />
        <p>
          {part.printed
            ? 'STL is in millimetres, each piece as it lies on the printer’s bed.'
            : 'GLB is in metres, as its standard has it; the lamp stands level, its beam goes along +Z.'}
        </p>
      </div>
      <SavedWords />
      {made?.ok &&
        made.notes.map((note) => (
          <p key={note} className="workshop-quiet">
            {inSystem(note, system)}
          </p>
        ))}
      <div className="workshop-solid">
        {made?.ok ? (
          <Suspense fallback={<p className="workshop-quiet">Loading the view…</p>}>
            <MeshView pieces={made.pieces} isPrinted={part.printed} title={part.title} />
          </Suspense>
        ) : (
          <p className="workshop-quiet">Being made…</p>
        )}
      </div>
    </div>
  )
}

/** Null while they are being made. */
function useMeshes(lamp: Lamp, part: ListedPart): MadePart | null {
  const [made, setMade] = useState<MadePart | null>(null)
  const { name, ok } = part
  useEffect(() => {
    if (!ok) return
    const abort = new AbortController()
    setMade(null)
    solidsInWorker('meshes', { lamp, name }, abort.signal).then(
      (result) => !abort.signal.aborted && setMade(result),
      (error: unknown) =>
        !abort.signal.aborted && setMade({ ok: false, why: error instanceof Error ? error.message : String(error) }),
    )
    return () => abort.abort()
  }, [lamp, name, ok])
  return made
}

/** `isReady`: the lamp is the one on the page. */
function Files({ lamp, part, isReady }: { lamp: Lamp; part: ListedPart; isReady: boolean }) {
  const stem = `${fileStem(lamp.name)}-${part.name}`
  const stl = () =>
    saving(`${stem}.stl`, async () => {
      const made = await solidsInWorker('stl', { lamp, name: part.name })
      if (!made.ok) throw new Error(inSystem(made.why, unitSystem()))
      for (const { name, count, bytes } of made.files) {
        const times = count > 1 ? `-${count}-times` : ''
        saveFile(`${fileStem(lamp.name)}-${name}${times}.stl`, bytes as BlobPart, 'model/stl')
      }
    })
  const glb = () =>
    saving(`${stem}.glb`, async () => {
      const made = await solidsInWorker('glb', { lamp, name: part.name })
      if (!made.ok) throw new Error(inSystem(made.why, unitSystem()))
      saveFile(`${stem}.glb`, made.bytes as BlobPart, 'model/gltf-binary')
    })
  const [first, second] = part.printed ? [stl, glb] : [glb, stl]
  return (
    <>
      <Button kind="strong" isDisabled={!isReady} onPress={first}>
        {part.printed ? 'Save STL' : 'Save GLB'}
      </Button>
      <Button isDisabled={!isReady} onPress={second}>
        {part.printed ? 'Save GLB' : 'Save STL'}
      </Button>
    </>
  )
}
