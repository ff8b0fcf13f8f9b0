export const sql = `
-- Callbacks that answered 410: that client's events are not sent there any more. Of disabled_receiver, which held for all clients
-- alike, only what each client was told itself is taken over; the table stays for processes of the version before.
-- The owner is '' where a submission has none.
CREATE TABLE heatgate.disabled_callback (
  owner       text NOT NULL,
  url         text NOT NULL,
  disabled_at timestamptz NOT NULL DEFAULT now(),
  PRIMARY KEY (owner, url)
);
INSERT INTO heatgate.disabled_callback (owner, url, disabled_at)
  SELECT DISTINCT coalesce(e.owner, ''), r.url, r.disabled_at FROM heatgate.disabled_receiver AS r
  JOIN heatgate.delivery AS d ON d.url = r.url AND d.endpoint IS NULL
  JOIN heatgate.event AS e ON e.id = d.event
  JOIN heatgate.delivery_attempt AS a ON a.delivery = d.id AND a.status = 410;
`;
