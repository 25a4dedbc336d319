// What the judges in JavaScript share: rows of the table and proof that a judge can fail, as `judging.py` has them for
// those in Python. `table.py` makes the table from the rows of both.
//
//   node some_judge.mjs FOLDER --name DEMO --rows ROWS.jsonl                judge a folder
//   node some_judge.mjs FOLDER --name DEMO --rows ROWS.jsonl --self-test    damage copies of it, and see each damage found
//
// Packages: `npm ci` in tests/outside/node. Node 18 or later.
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { createRequire } from 'node:module';
import { parseArgs } from 'node:util';

/** What is installed for the judges. */
export const installed = createRequire(new URL('node/package.json', import.meta.url));

/** Packages that judge, with their versions, for the column `source`. */
export const versions = (...names) => names.map((name) => `${name} ${installed(`${name}/package.json`).version}`).join(', ');

/** One of the lists in `checks/` of a folder; `undefined` when it is not there. */
export function expectations(folder, name) {
  const file = path.join(folder, 'checks', `${name}.json`);
  return fs.existsSync(file) ? JSON.parse(fs.readFileSync(file, 'utf8')) : undefined;
}

/** The only file of a kind in a folder. */
export function onlyFile(folder, ending) {
  const names = fs.readdirSync(folder).filter((name) => name.endsWith(ending));
  if (names.length !== 1) throw new Error(`${names.length} files *${ending} in ${folder}`);
  return path.join(folder, names[0]);
}

/** The rows of one judge on one folder. */
export class Rows {
  constructor(on, source, { stopsAtFirst = false } = {}) {
    this.on = on;
    this.source = source;
    this.stopsAtFirst = stopsAtFirst;
    this.rows = [];
  }

  /** Two things must be the same. */
  equal(quantity, part, ours, theirs) {
    this.add({ quantity, part, ours, theirs, deviation: null, limit: null, kind: 'equal', ok: ours === theirs });
  }

  /** Something must hold; otherwise `found` is told. */
  holds(quantity, part, doesHold, found = '') {
    this.equal(quantity, part, 'yes', doesHold ? 'yes' : `no: ${found}`.slice(0, 200));
  }

  /** A number, such as a time, that may be anything up to a limit: it is told as the deviation, from which tables may differ. */
  within(quantity, part, value, limit) {
    const isOk = Number.isFinite(value) && value >= 0 && value <= limit;
    this.add({ quantity, part, ours: 0, theirs: 0, deviation: Number.isFinite(value) ? value : 1e99, limit, kind: 'absolute', ok: isOk });
  }

  add(row) {
    this.rows.push({ on: this.on, source: this.source, ...row });
    // Once a damage is found nobody asks what else it did.
    if (this.stopsAtFirst && !row.ok) throw new Error('found');
  }

  get failed() {
    return this.rows.filter((row) => !row.ok);
  }
}

/**
 * The command line of a judge. `judge(folder, rows)` adds rows; an exception is a failed row. `damages` maps what is
 * damaged to a function that damages a folder. `copy` makes the copy that is damaged.
 */
export async function run(judge, source, damages, copy = (from, to) => fs.cpSync(from, to, { recursive: true })) {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { name: { type: 'string' }, rows: { type: 'string' }, pictures: { type: 'string' }, 'self-test': { type: 'boolean' } },
  });
  const folder = positionals[0];
  if (positionals.length !== 1) {
    console.error('name one folder that `sumpwright make` wrote');
    process.exit(2);
  }
  const judged = async (where, rows) => {
    try {
      await judge(where, rows, values);
    } catch (error) {
      rows.stopsAtFirst = false;
      rows.equal('judged to the end', '', 'yes', `${error.name}: ${error.message}`.slice(0, 200));
    }
    return rows;
  };
  const rows = new Rows(values.name ?? path.basename(folder), source);
  if (values['self-test']) {
    for (const [damage, apply] of Object.entries(damages)) {
      const scratch = fs.mkdtempSync(path.join(os.tmpdir(), 'judge-'));
      try {
        const damaged = path.join(scratch, 'folder');
        copy(folder, damaged);
        apply(damaged);
        const { failed } = await judged(damaged, new Rows(rows.on, source, { stopsAtFirst: true }));
        rows.equal('damage that was found', damage, 'found', failed.length > 0 ? 'found' : 'not found');
        // For the reader of the log: what gave it away.
        for (const row of failed.slice(0, 1)) console.error(`${damage}: ${row.part}: ${row.quantity}: ${row.theirs}`);
      } finally {
        fs.rmSync(scratch, { recursive: true });
      }
    }
  } else {
    await judged(folder, rows);
  }
  if (values.rows) fs.appendFileSync(values.rows, rows.rows.map((row) => `${JSON.stringify(row)}\n`).join(''));
  for (const row of rows.failed) {
    console.error(`FAILED ${rows.on}: ${row.part}: ${row.quantity}: ours ${row.ours}, theirs ${row.theirs}, deviation ${row.deviation}`);
  }
  process.exit(rows.failed.length > 0 || rows.rows.length === 0 ? 1 : 0);
}

/** Replaces text in a file, which must be there. */
export function replace(file, text, by) {
  const before = fs.readFileSync(file, 'utf8');
  const after = before.replace(text, by);
  if (after === before) throw new Error(`nothing to damage: no ${text} in ${file}`);
  fs.writeFileSync(file, after);
}
