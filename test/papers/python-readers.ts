import { pythonWith } from '../support/python.ts';

/** Readers of tables and of XML that come with Python. */

export const csvReader = pythonWith('csv', 'python3');

/** The tables as another reader takes them: rows of cells. */
export function csvTables(texts: readonly string[]): string[][][] {
  const script = `
import csv, io, json, sys
def table(text): return list(csv.reader(io.StringIO(text.removeprefix("\\ufeff"), newline="")))
print(json.dumps([table(text) for text in json.load(sys.stdin)]))`;
  return csvReader.ask(script, texts) as string[][][];
}

export const xmlReader = pythonWith('xml.sax', 'python3');

/** For each text what keeps it from being XML, null where it is. */
export function xmlFaults(texts: readonly string[]): (string | null)[] {
  const script = `
import json, sys, xml.sax
def fault(text):
    try: xml.sax.parseString(text.encode(), xml.sax.ContentHandler())
    except xml.sax.SAXParseException as error: return str(error)
print(json.dumps([fault(text) for text in json.load(sys.stdin)]))`;
  return xmlReader.ask(script, texts) as (string | null)[];
}
