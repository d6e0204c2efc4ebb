// A job's file of any size, made here from the description of the format
// (core/src/codec/FORMAT.md) and not by the program that reads it.
import { createHash } from "node:crypto";

const DEVICE = "00000000000000aa";

/// The file of a job with these parts off, each held by two bolts that lie on
/// the bench. `parts` is a generator; it may `say` other acts between them, and
/// `say.last` is the part before. The acts are a second apart, from `opened` on.
export function jobFile({ title, parts, opened = Date.UTC(2026, 3, 11, 8) }) {
  const lines = [];
  const id = (n) => `${(Math.floor(opened / 1000) + n).toString(16).padStart(8, "0")}-${DEVICE}`;
  const say = (act, more) => {
    const n = lines.length;
    lines.push(JSON.stringify({ v: 1, id: id(n), at: opened + n * 1000, by: "Rosa", act, ...more }));
    return `${id(n)}-0`;
  };
  say("job-opened", { title, machine: "the press", "torque-unit": "N.m", "length-unit": "mm" });
  for (const { name, lies, note } of parts(say)) {
    const part = say("part-off", { name, ...(lies && { lies }), ...(note && { note }) });
    say.last = `part:${part}`;
    say("fixing-undone", {
      parts: [part],
      spec: "bolt | thread=M6 x 1 | length=20 | head=hex 10 mm",
      n: 2,
      reuse: "reuse",
      went: ["2 bench"],
    });
  }
  const journal = Buffer.from(lines.map((line) => line + "\n").join(""));
  const about = {
    format: "countback-job",
    version: 1,
    title,
    acts: lines.length,
    bytes: journal.length,
    sha256: createHash("sha256").update(journal).digest("hex"),
    photos: [],
    thumbs: [],
  };
  return zip({ "job.jsonl": journal, "about.json": Buffer.from(JSON.stringify(about, null, 2) + "\n") });
}

const TABLE = Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let bit = 0; bit < 8; bit += 1) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});
const crc32 = (bytes) => {
  let c = 0xffffffff;
  for (const byte of bytes) c = TABLE[(c ^ byte) & 0xff] ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
};

// Stored entries only; the layout is that of PKWARE's APPNOTE (from memory).
function zip(entries) {
  const bodies = [];
  const list = [];
  let at = 0;
  for (const [name, bytes] of Object.entries(entries)) {
    const head = Buffer.alloc(26);
    head.writeUInt16LE(20, 0);
    head.writeUInt16LE(0x21, 8);
    head.writeUInt32LE(crc32(bytes), 10);
    head.writeUInt32LE(bytes.length, 14);
    head.writeUInt32LE(bytes.length, 18);
    head.writeUInt16LE(name.length, 22);
    const local = Buffer.concat([Buffer.from("PK\x03\x04"), head, Buffer.from(name), bytes]);
    const tail = Buffer.alloc(14);
    tail.writeUInt32LE(at, 10);
    list.push(Buffer.concat([Buffer.from("PK\x01\x02"), Buffer.from([20, 0]), head, tail, Buffer.from(name)]));
    bodies.push(local);
    at += local.length;
  }
  const directory = Buffer.concat(list);
  const end = Buffer.alloc(18);
  end.writeUInt16LE(list.length, 4);
  end.writeUInt16LE(list.length, 6);
  end.writeUInt32LE(directory.length, 8);
  end.writeUInt32LE(at, 12);
  return Buffer.concat([...bodies, directory, Buffer.from("PK\x05\x06"), end]);
}
