import express, { Router } from "express";
import { z } from "zod";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { refuseOtherSites, sessionCookie } from "../middleware/authenticate.js";
import { sendPage } from "../pages/send-page.js";
import { signInPage } from "../pages/sign-in-page.js";
import { PROBLEMS } from "../problems.js";

const SESSION_SECONDS = 12 * 60 * 60;

const signInSchema = z.object({ key: z.string().trim() }).catch({ key: "" });

/** Signing in puts the key into a cookie that no script reads and no other site sends; signing out takes it away. */
export function sessionRoutes({ keys, publicUrl }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });
  const name = sessionCookie(publicUrl);
  const cookie = { httpOnly: true, sameSite: "strict", secure: publicUrl.startsWith("https:"), path: "/" } as const;

  router
    .route("/session")
    .post(express.urlencoded({ extended: false, limit: "16kb" }), async (request, response) => {
      refuseOtherSites(request);
      const { key } = signInSchema.parse(request.body);
      const holder = await keys.authenticate(key);
      if (!holder) return sendPage(response.status(401), signInPage(PROBLEMS["key-unknown"].title));
      response.cookie(name, key, { ...cookie, maxAge: SESSION_SECONDS * 1_000 }).redirect(303, "/");
    })
    .all(allowMethods("POST"));

  router
    .route("/session/end")
    .post((request, response) => {
      refuseOtherSites(request);
      response.clearCookie(name, cookie).redirect(303, "/");
    })
    .all(allowMethods("POST"));

  return router;
}
