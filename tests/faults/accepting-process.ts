// The part of the api that accepts, killed at the worst moment: the submission is committed, and nobody was told.
import { readSettings } from "../../worker/config.js";
import { openStores } from "../../worker/store/open-stores.js";
import { newSubmission, storeDocument } from "../support/invented.js";

const key = process.argv[2]!;
const settings = readSettings(process.env);
const stores = await openStores(settings, { warn: () => {} });
const document = await storeDocument(stores.documents, settings.HEATGATE_DATA, `wait 0 ${key}`);
await stores.records.createSubmission(newSubmission([document], { idempotency: { key, fingerprint: key } }));
process.kill(process.pid, "SIGKILL");
