-- What fifty people at once ask for: the addresses are in a file, one a line, with how often each comes.
local addresses = {}
local thread_count = 0
local all = {}
local limit = tonumber(os.getenv("LOAD_REQUESTS_OF_A_THREAD"))
local write_share = tonumber(os.getenv("LOAD_WRITE_SHARE"))
local seasons_day = 0

function setup(thread)
  thread_count = thread_count + 1
  thread:set("number", thread_count)
  table.insert(all, thread)
end

function init(args)
  math.randomseed(4270 + number)
  for line in io.lines(os.getenv("LOAD_ADDRESSES")) do
    local weight, address = line:match("^(%d+) (%S+)$")
    for _ = 1, tonumber(weight) do table.insert(addresses, address) end
  end
  answered = 0
  refused = 0
  written = 0
  repeated = 0
  run = os.time()
  last = nil
end

-- A price of a day, under a key of its own; one in five is sent again, as after a lost answer.
local function write()
  if last ~= nil and math.random() < 0.2 then
    repeated = repeated + 1
    local again = last
    last = nil
    return again
  end
  written = written + 1
  local day = string.format("20%02d-%02d-%02d", math.random(10, 14), math.random(1, 12), math.random(1, 28))
  local body = string.format(
    '{"metal":"Au","quotedOn":"%s","price":"%d.%02d","currency":"USD","unit":"ozt"}',
    day, math.random(1800, 3200), math.random(0, 99))
  last = wrk.format("PUT", "/api/quotations", {
    ["content-type"] = "application/json",
    ["idempotency-key"] = string.format('"load-%d-%d-%d"', run, number, written),
  }, body)
  return last
end

function request()
  if math.random() < write_share then return write() end
  return wrk.format("GET", addresses[math.random(#addresses)], { accept = "application/json" })
end

function response(status)
  answered = answered + 1
  if status >= 400 then
    refused = refused + 1
    reason = status
  end
  if answered >= limit then wrk.thread:stop() end
end

function done(summary, latency, requests)
  local refusals, writes, repeats, reasons = 0, 0, 0, ""
  for _, thread in ipairs(all) do
    refusals = refusals + thread:get("refused")
    writes = writes + thread:get("written")
    repeats = repeats + thread:get("repeated")
    local why = thread:get("reason")
    if why ~= nil then reasons = reasons .. " " .. why end
  end
  local errors = summary.errors
  io.write(string.format(
    '\nLOAD {"requests":%d,"seconds":%.3f,"refused":%d,"socketErrors":%d,"timeouts":%d,"written":%d,"repeated":%d,' ..
    '"p50Ms":%.2f,"p90Ms":%.2f,"p99Ms":%.2f,"mostMs":%.2f,"reasons":"%s"}\n',
    summary.requests, summary.duration / 1e6, refusals, errors.connect + errors.read + errors.write, errors.timeout,
    writes, repeats, latency:percentile(50) / 1000, latency:percentile(90) / 1000, latency:percentile(99) / 1000,
    latency.max / 1000, reasons))
end
