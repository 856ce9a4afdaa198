/** Writes the JSON Schemas beside it from the schemas in the code: `npm run schemas`. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { jsonSchemas } from '../../src/run/schemas.ts';

const folder = import.meta.dirname;
for (const [name, text] of jsonSchemas()) writeFileSync(join(folder, name), text);
