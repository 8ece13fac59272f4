// The pictures: exposures of one scene with their times, and an even field.

import { readExposureTime } from '../../../readings/photo/exif.ts'
import { Button } from '../../ui/Button.tsx'
import { NumberField } from '../../ui/NumberField.tsx'
import { pickFile, pickFiles } from '../../ui/pickFile.ts'
import { TextField } from '../../ui/TextField.tsx'
import { addShots, removeShot, type Shot, setExposure, setField, useWallPicture, wallPicture } from './pictureStore.ts'
import { maskedWords, timeText } from './words.ts'

const ACCEPT = 'image/jpeg,image/png,image/webp,.jpg,.jpeg,.png,.webp'

export function Shots() {
  const { shots, shownKey, isReading } = useWallPicture((s) => s)
  return (
    <>
      <h3>1 Pictures</h3>
      {shots.length === 0 && (
        <ul className="readings-quiet">
          <li>
            Stay behind the lamp; never look into the beam. Camera on a stand, all of the light in the middle of the
            picture. Focus and exposure locked; no flash, HDR or night mode.
          </li>
          <li>
            Two or three pictures, each with a quarter of the time of the one before. The brightest place must not be
            burnt out in the shortest.
          </li>
          <li>Four marks of tape on the wall, one reading of the meter. The pictures stay on this machine.</li>
        </ul>
      )}
      <ul className="photo-shots">
        {shots.map((shot) => (
          <ShotRow key={shot.key} shot={shot} isShown={shot.key === shownKey} isTimed={shots.length > 1} />
        ))}
      </ul>
      <div className="readings-row">
        <Button
          kind={shots.length === 0 ? 'strong' : 'plain'}
          isDisabled={isReading}
          onPress={() => pickFiles({ accept: ACCEPT, label: 'Pictures of the wall' }, (files) => void addShots(files))}
        >
          {shots.length === 0 ? 'Open pictures…' : 'Add an exposure…'}
        </Button>
        <span className="readings-quiet" role="status">
          {isReading && 'Reading the pictures…'}
        </span>
      </div>
    </>
  )
}

function ShotRow({ shot, isShown, isTimed }: { shot: Shot; isShown: boolean; isTimed: boolean }) {
  const { key, name, picture, exposure } = shot
  return (
    <li aria-current={isShown || undefined}>
      <Button kind="quiet" name={`Show ${name}`} onPress={() => wallPicture.setState({ shownKey: key })}>
        <span className="photo-name">{name}</span>
      </Button>
      {isTimed && (
        <>
          <TextField
            label="Time, s"
            value={timeText(exposure.timeS)}
            description="As the camera shows it: 1/250 or 0.004"
            maxLength={20}
            onSet={(text) => {
              const timeS = readExposureTime(text)
              if (timeS === null) return 'A time such as 1/250 or 0.004.'
              setExposure(key, { timeS })
              return null
            }}
          />
          <NumberField
            label="ISO"
            value={exposure.iso ?? 100}
            unit=""
            min={1}
            max={1e6}
            step={100}
            digits={0}
            onSet={(iso) => {
              setExposure(key, { iso })
              return null
            }}
          />
        </>
      )}
      <Button kind="quiet" name={`Remove ${name}`} onPress={() => removeShot(key)}>
        ✕
      </Button>
      <span className="readings-quiet">{maskedWords(picture)}</span>
    </li>
  )
}

export function EvenField() {
  const field = useWallPicture((s) => s.field)
  return (
    <>
      <h3>4 Even field, if you have one</h3>
      <p className="readings-quiet">
        White paper before the lens, towards an overcast sky: how much darker the camera shows its edges. Without it
        half of the cos⁴ law is taken out, and the rest stays open towards the edges.
      </p>
      <div className="readings-row">
        <Button onPress={() => pickFile({ accept: ACCEPT, label: 'Even field' }, (file) => void setField(file))}>
          {field ? 'Another even field…' : 'Open an even field…'}
        </Button>
        {field && (
          <>
            <span className="photo-name">{field.name}</span>
            <Button kind="quiet" name="Remove the even field" onPress={() => wallPicture.setState({ field: null })}>
              ✕
            </Button>
          </>
        )}
      </div>
    </>
  )
}
