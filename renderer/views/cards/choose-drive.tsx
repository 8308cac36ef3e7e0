import { Button, Radio } from '@mantine/core'
import { useState, type ReactNode } from 'react'
import { Link } from 'wouter'
import type { ResponseOf } from '../../../app/contract/calls.ts'
import { inUnits } from '../../../app/model/in-units.ts'
import { PathField } from '../../elements/path-field.tsx'
import { WhenLoaded } from '../../elements/when-loaded.tsx'
import { useDrives } from '../../hooks/use-drives.ts'

type Drive = ResponseOf<'drives:list'>['drives'][number]

interface ChooseDriveProps {
  /** Null until one is chosen. */
  readonly into: string | null
  readonly isDisabled: boolean
  readonly onChoose: (into: string | null) => void
}

const ELSEWHERE = 'elsewhere'

/** Where a card's files go: a drive from the list, or a folder that is named. */
export function ChooseDrive({ into, isDisabled, onChoose }: ChooseDriveProps) {
  const { loaded, lookAgain } = useDrives()
  const [isElsewhere, setIsElsewhere] = useState(false)
  const [folder, setFolder] = useState('')
  return (
    <WhenLoaded loaded={loaded} what="drives">
      {({ drives }) => (
        <>
          <Radio.Group
            label="Where to"
            value={isElsewhere ? ELSEWHERE : into}
            onChange={(next) => {
              setIsElsewhere(next === ELSEWHERE)
              onChoose(next === ELSEWHERE ? null : next)
            }}
          >
            <div className="drives">
              {drives.map((drive) => (
                <Radio
                  key={`${drive.device} ${drive.path}`}
                  value={drive.path ?? drive.device}
                  disabled={isDisabled || drive.path === null}
                  label={<DriveName drive={drive} />}
                  description={<DriveFacts drive={drive} />}
                />
              ))}
              {drives.length === 0 && (
                <p className="quiet">
                  No removable drive is there. Put the card into a reader, wait until the computer shows it,
                  then look again.
                </p>
              )}
              <Radio
                value={ELSEWHERE}
                disabled={isDisabled}
                label="Another folder"
                description="A card's folder that is not in the list, or a folder on a disk to copy from"
              />
            </div>
          </Radio.Group>
          {isElsewhere && (
            <div className="row row-end">
              <div className="spring">
                <PathField
                  label="Folder"
                  description="Its full path"
                  kinds={['folder']}
                  value={folder}
                  onChange={(path) => {
                    setFolder(path)
                    onChoose(null)
                  }}
                />
              </div>
              <Button
                variant="default"
                disabled={isDisabled || folder.trim() === ''}
                onClick={() => {
                  onChoose(folder.trim())
                  lookAgain()
                }}
              >
                Look at it
              </Button>
            </div>
          )}
          <div>
            <Button variant="default" size="sm" disabled={isDisabled} onClick={lookAgain}>
              Look for drives again
            </Button>
          </div>
        </>
      )}
    </WhenLoaded>
  )
}

function DriveName({ drive }: { readonly drive: Drive }): ReactNode {
  return (
    <>
      <strong>{drive.label === '' ? 'Without a name' : drive.label}</strong>{' '}
      <span className="mono break">{drive.path ?? drive.device}</span>
    </>
  )
}

function DriveFacts({ drive }: { readonly drive: Drive }): ReactNode {
  const facts = [
    drive.path === null ? 'not mounted: open it once in the file manager, then look again' : '',
    [drive.model, drive.connection.toUpperCase()].filter((word) => word !== '').join(', by '),
    drive.sizeBytes === null ? '' : inUnits(drive.sizeBytes),
    drive.fileSystem,
    drive.freeBytes === null ? '' : `${inUnits(drive.freeBytes)} free`,
  ].filter((word) => word !== '')
  return (
    <>
      {facts.join(' · ')}
      {drive.holds !== null && (
        <>
          {facts.length > 0 && ' · '}
          holds <Link href={`/cards/contents/${drive.holds}`}>{drive.holds}</Link>
        </>
      )}
    </>
  )
}
