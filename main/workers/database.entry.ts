import { parentPort, workerData } from 'node:worker_threads'
import { databaseFault } from '../adapters/db/database-faults.ts'
import type { DatabaseAnswer, DatabaseQuestion, DatabaseStart } from '../adapters/db/database-messages.ts'
import { openConnections, type Connections } from '../adapters/db/open-connections.ts'
import { recordsReads } from '../adapters/db/records-reads.ts'
import { sendError } from '../adapters/db/sent-error.ts'
import { serveDatabase } from '../adapters/db/serve-database.ts'
import { watchForChanges } from '../adapters/db/watch-for-changes.ts'

const port = parentPort
if (port === null) throw new Error('database.entry.ts is started as a worker only')
const start = workerData as DatabaseStart
const post = (message: DatabaseAnswer) => port.postMessage(message)

try {
  const connections = await openConnections(start.folder)
  const serve = serveDatabase(connections, { ...start, actor: await actorOf(connections) }, post)
  const stopWatching = watchForChanges(connections, () => post({ kind: 'foreign-change' }))
  port.on('message', (question: DatabaseQuestion) => {
    const answered = serve(question)
    if (question.kind !== 'close') return
    stopWatching()
    void answered.then(() => port.close())
  })
  post({ kind: 'opened' })
} catch (error) {
  post({ kind: 'not-opened', error: sendError(databaseFault(error, start.folder)) })
}

async function actorOf({ reader }: Connections): Promise<DatabaseStart['actor']> {
  if (start.nameSetting === null) return start.actor
  const name = (await recordsReads(reader).findSetting(start.nameSetting)) ?? ''
  return name === '' ? start.actor : { ...start.actor, name }
}
