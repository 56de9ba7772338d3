// Holds the documents against the code: links lead somewhere, docs/errors.md lists the codes there are, the tables of
// docs/science/equilibrium.md are those of the data, and no file points outside the project.
import { existsSync, globSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { withTables } from './equilibrium-tables.ts';
import { errorsDocument } from './errors-document.ts';
import { ROOT } from './run-step.ts';

const faults: string[] = [];
const documents = globSync('{*.md,docs/**/*.md,demo/*.md,test/**/*.md}', { cwd: ROOT });
for (const file of documents) {
  const text = readFileSync(join(ROOT, file), 'utf8').replaceAll(/```[\s\S]*?```/g, '');
  for (const [, link] of text.matchAll(/\]\(([^)#\s]+)(?:#[^)]*)?\)/g)) {
    if (/^[a-z]+:/.test(link!)) continue;
    if (!existsSync(join(ROOT, dirname(file), link!)))
      faults.push(`${file}: the link ${link} leads nowhere.`);
  }
}

const errorsPath = join(ROOT, 'docs', 'errors.md');
const wanted = errorsDocument();
if (process.argv.includes('--write')) writeFileSync(errorsPath, wanted);
else if (!existsSync(errorsPath) || readFileSync(errorsPath, 'utf8') !== wanted) {
  faults.push('docs/errors.md does not list the codes in the code. Run `npm run generate`.');
}

const equilibriumPath = join(ROOT, 'docs', 'science', 'equilibrium.md');
const equilibrium = readFileSync(equilibriumPath, 'utf8');
const remade = withTables(equilibrium);
if (process.argv.includes('--write')) writeFileSync(equilibriumPath, remade);
else if (equilibrium !== remade)
  faults.push(
    'docs/science/equilibrium.md has tables that are not those of the data. Run `npm run generate`.',
  );

for (const fault of faults) process.stderr.write(`${fault}\n`);
process.stdout.write(`documents: ${documents.length} files, ${faults.length} faults\n`);
if (faults.length > 0) process.exitCode = 1;
