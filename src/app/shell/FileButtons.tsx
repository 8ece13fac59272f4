import { Group } from 'react-aria-components'
import { Button } from '../ui/Button.tsx'
import { page, shell } from './page.ts'
import { ShareButton } from './ShareButton.tsx'

export function FileButtons() {
  return (
    <Group className="shell-files" aria-label="Files">
      <Button
        hint="Open a *.lamp.json file, a book as PDF or a saved picture; it can also be dropped anywhere on the page"
        onPress={page.files.open}
      >
        Open
      </Button>
      <Button hint="Save this lamp as a *.lamp.json file" onPress={page.files.save}>
        Save
      </Button>
      <ShareButton />
      <Button
        hint="The whole lamp in one document: a PDF, or a page to print"
        onPress={() => shell.setState({ book: true })}
      >
        Book
      </Button>
      <Button kind="quiet" name="Keys" hint="Keys" onPress={page.help}>
        ?
      </Button>
    </Group>
  )
}
