import { openNamedLocks } from '../../main/adapters/db/open-named-locks.ts'

/** Takes the lock named second in the workshop named first, says `held`, and keeps it until it is killed. */
const [folder = '', name = ''] = process.argv.slice(2)
const locks = openNamedLocks(folder, { who: 'the other bench', clock: { now: () => '2026-11-25T10:00:00Z' } })
await locks.acquire(name, 'scanning')
process.stdout.write('held\n')
setInterval(() => {}, 1000)
