/**
 * The peer's side of the wire: a server of the CouchDB protocol in memory, on a port of loopback
 * that it prints. It authenticates nobody and checks nothing, which is to the peer's advantage.
 */
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import expressPouch from "express-pouchdb";
import PouchDB from "pouchdb";
import memory from "pouchdb-adapter-memory";

PouchDB.plugin(memory);
const Memory = PouchDB.defaults({ adapter: "memory" });
const server = createServer(
  expressPouch(Memory, {
    mode: "minimumForPouchDB",
    inMemoryConfig: true,
    logPath: join(tmpdir(), `yardloop-bench-peer-${process.pid}.log`),
  }),
);
server.listen(0, "127.0.0.1", () => console.log(server.address().port));
