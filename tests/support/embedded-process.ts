// A process that runs the embedded profile until it is killed: hands in as many submissions as told, and dies in the
// middle of them, because reading never ends here. It prints the id of each accepted one, then "working".

import { openEmbedded } from "../../worker/store/open-embedded.js";
import { namingVerifier, newSubmission, storeDocument } from "./invented.js";
import { startTestWorker } from "./running-worker.js";

const [folder, count, callbackUrl] = process.argv.slice(2);
const stores = await openEmbedded(folder!, "https://heatgate.example");
await startTestWorker(
  stores,
  namingVerifier(() => {
    console.log("working");
    return new Promise(() => {});
  }),
);
for (let number = 0; number < Number(count); number++) {
  const document = await storeDocument(stores.documents, folder!, `document ${number}`);
  const callback = { url: callbackUrl!, secret: "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw" };
  const { id } = await stores.records.createSubmission(newSubmission([document], { callback }));
  console.log(id);
}
