import { setTimeout as wait } from 'node:timers/promises'
import type { ScanProblem } from '../../../app/model/library.ts'
import type { KnownFile, ScannedEdition } from '../../../app/ports/library-records.ts'
import { beginScanApplication, type ScanApplication } from './apply-scan.ts'
import type { Connection } from './connection.ts'
import { busy, databaseFault } from './database-faults.ts'
import type { DatabaseAnswer, DatabaseQuestion, Repository } from './database-messages.ts'
import { libraryReads } from './library-reads.ts'
import { libraryWrites } from './library-writes.ts'
import type { Connections } from './open-connections.ts'
import { recordsReads } from './records-reads.ts'
import { recordsWrites } from './records-writes.ts'
import { sendError } from './sent-error.ts'
import { writeContext, type Stamp } from './write-context.ts'

/** How long a write waits for another process's; theirs are short too. */
const WRITE_WAIT_MS = 15_000
const WRITE_RETRY_MS = 20

type Method = (...args: readonly unknown[]) => unknown
type Methods = Readonly<Record<Repository, Readonly<Record<string, Method>>>>

/**
 * Answers questions on the two connections: reads at once and side by side, what belongs to the
 * transaction strictly one after the other. Everything is answered, whatever it throws.
 */
export function serveDatabase(
  connections: Connections,
  actor: { readonly id: string; readonly name: string },
  where: string,
  answer: (message: DatabaseAnswer) => void,
): (question: DatabaseQuestion) => Promise<void> {
  const reading = methodsFor(connections.reader)
  let stamp: Stamp = { at: '', ids: [] }
  const context = writeContext(connections.writer, actor, () => stamp)
  const writing: Methods = {
    library: { ...methodsFor(connections.writer).library, ...own(libraryWrites(context)), ...scanSteps() },
    records: { ...methodsFor(connections.writer).records, ...own(recordsWrites(context)) },
  }
  let lastInside: Promise<void> = Promise.resolve()

  /** The steps of `applyScan`; one application stands open at most, and ends with its transaction. */
  function scanSteps(): Record<string, Method> {
    let application: ScanApplication | undefined
    const open = () => {
      if (application === undefined) throw new RangeError('no scan application was begun')
      return application
    }
    return {
      beginScan: async (rootId) => {
        application = await beginScanApplication(context, rootId as string)
      },
      addScannedFiles: (files) => open().addFiles(files as readonly KnownFile[]),
      addScannedEditions: (editions) => open().addEditions(editions as readonly ScannedEdition[]),
      finishScan: (problems, treeDigest) => {
        const applied = open().finish(problems as readonly ScanProblem[], treeDigest as string | null)
        application = undefined
        return applied
      },
    }
  }

  async function runQuestion(question: DatabaseQuestion): Promise<{ value: unknown; streamed: boolean }> {
    switch (question.kind) {
      case 'read':
        return run(reading, question, question.id)
      case 'inside':
        stamp = question.stamp
        return run(writing, question, question.id)
      case 'begin':
        await begin(connections.writer, where)
        break
      case 'commit':
        connections.writer.handle.exec('COMMIT')
        break
      case 'rollback':
        if (connections.writer.handle.inTransaction) connections.writer.handle.exec('ROLLBACK')
        break
      case 'close':
        connections.close()
    }
    return { value: undefined, streamed: false }
  }

  async function run(
    methods: Methods,
    call: { readonly of: Repository; readonly method: string; readonly args: readonly unknown[] },
    id: number,
  ): Promise<{ value: unknown; streamed: boolean }> {
    const method = methods[call.of][call.method]
    if (method === undefined) throw new RangeError(`the database knows no ${call.of}.${call.method}`)
    const result = await method(...call.args)
    if (!isStream(result)) return { value: result, streamed: false }
    for await (const part of result) answer({ id, kind: 'part', part: part as readonly unknown[] })
    return { value: undefined, streamed: true }
  }

  async function answerQuestion(question: DatabaseQuestion): Promise<void> {
    try {
      answer({ id: question.id, kind: 'done', ...(await runQuestion(question)) })
    } catch (error) {
      answer({ id: question.id, kind: 'failed', error: sendError(databaseFault(error, where)) })
    }
  }

  return (question) => {
    if (question.kind === 'read') return answerQuestion(question)
    lastInside = lastInside.then(() => answerQuestion(question))
    return lastInside
  }
}

/** Begins a transaction, waiting for another process's without holding up reads. @throws AppError `workshop/busy` */
async function begin(writer: Connection, where: string): Promise<void> {
  const giveUpAt = performance.now() + WRITE_WAIT_MS
  for (;;) {
    try {
      writer.handle.exec('BEGIN IMMEDIATE')
      return
    } catch (error) {
      const code = error instanceof Error && 'code' in error ? String(error.code) : ''
      if (!code.startsWith('SQLITE_BUSY')) throw error
      if (performance.now() > giveUpAt) throw busy(where, error)
      await wait(WRITE_RETRY_MS)
    }
  }
}

function methodsFor(connection: Connection): Methods {
  return { library: own(libraryReads(connection)), records: own(recordsReads(connection)) }
}

/** Methods by name, nothing inherited: names come in messages. */
function own(repository: object): Record<string, Method> {
  return Object.assign(Object.create(null) as Record<string, Method>, repository)
}

function isStream(value: unknown): value is AsyncIterable<unknown> {
  return typeof value === 'object' && value !== null && Symbol.asyncIterator in value
}
