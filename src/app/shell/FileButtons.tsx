import { Group } from 'react-aria-components'
import { Push } from '../ui/Button.tsx'
import { page } from './page.ts'

export function FileButtons() {
  return (
    <Group className="shell-files" aria-label="Files">
      <Push hint="Open a *.lamp.json file; it can also be dropped anywhere on the page" onPush={page.files.open}>
        Open
      </Push>
      <Push hint="Save this lamp as a *.lamp.json file" onPush={page.files.save}>
        Save
      </Push>
      <Push kind="quiet" name="Keys" hint="Keys" onPush={page.help}>
        ?
      </Push>
    </Group>
  )
}
