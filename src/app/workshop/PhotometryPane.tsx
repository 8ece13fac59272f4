// Photometric files: the traced light for other programs.
import { useMemo, useState } from 'react'
import { version } from '../../../package.json'
import { type Lm63Edition, lm63Text } from '../../files/lm63Write.ts'
import { inputPower } from '../../job/power/inputPower.ts'
import { localDate } from '../../num/localDate.ts'
import { lightWords } from '../../report/light.ts'
import { photometryInputWords } from '../../report/photometry.ts'
import { fileStem, saveFile } from '../common/saveFile.ts'
import { useDesign, useResult } from '../store/stores.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { RayFile } from './RayFile.tsx'
import { SavedWords } from './SavedWords.tsx'
import { ScrolledPane } from './ScrolledPane.tsx'
import { saving } from './saving.ts'

const EDITIONS = [
  { key: '2019', name: '2019' },
  { key: '2002', name: '2002' },
] as const

export function PhotometryPane() {
  const lamp = useDesign((s) => s.lamp)
  const sheet = useResult((s) => s.sheet)
  const stale = useResult((s) => s.stale)
  const [edition, setEdition] = useState<'2019' | '2002'>('2019')
  const written = useMemo(() => {
    if (!sheet || stale) return null
    const input = inputPower(lamp)
    return lm63Text(sheet, lamp, {
      edition: Number(edition) as Lm63Edition,
      date: localDate(),
      version,
      input: input && { watts: input.watts, of: photometryInputWords(input.of) },
      light: `${lightWords(sheet.light)}.`,
    })
  }, [sheet, stale, lamp, edition])
  const name = `${fileStem(lamp.name)}.ies`
  return (
    <ScrolledPane className="workshop-pane" label="Photometric files">
      <h3>Intensities, IES LM-63</h3>
      <p>
        Candela over direction, type C, for programs that light rooms and grounds. It is a computed prediction: nothing
        was measured, and the file says so.
      </p>
      <div className="workshop-row">
        <Choice<'2019' | '2002'> label="Edition" segments value={edition} options={EDITIONS} onChoose={setEdition} />
        <Button
          kind="strong"
          isDisabled={!written?.ok}
          onPress={() =>
            saving(name, async () => {
              if (written?.ok) saveFile(name, written.text, 'text/plain')
            })
          }
        >
          Save LM-63
        </Button>
        <p>
          {written === null
            ? 'It waits for the lamp’s figures.'
            : written.ok
              ? `${written.vertical} vertical angles, ${written.horizontal === 1 ? 'one plane: round' : `${written.horizontal} planes`}${sheet?.state === 'settled' ? '' : '; the trace has not settled yet'}.`
              : written.why}
        </p>
      </div>
      <SavedWords ending=".ies" />
      {written?.ok &&
        written.notes.map((note) => (
          <p key={note} className="workshop-quiet">
            {note}
          </p>
        ))}
      <RayFile />
    </ScrolledPane>
  )
}
