"""Runs the peer solver on instances and prints one JSON line each: name, density (from own area), seconds, seed."""
import json, sys, time, spyrrow
from shapely.geometry import Polygon
seconds=int(sys.argv[1]); seed=int(sys.argv[2])
for f in sys.argv[3:]:
    d=json.load(open(f))
    items=[];area=0
    for it in d["items"]:
        pts=[tuple(p) for p in it["shape"]["data"]]
        area+=Polygon(pts).area*it["demand"]
        ori=it.get("allowed_orientations")
        items.append(spyrrow.Item(str(it["id"]),pts,it["demand"],ori))
    h=d["strip_height"]
    inst=spyrrow.StripPackingInstance(d["name"],h,items)
    t=time.time()
    cfg=spyrrow.StripPackingConfig(early_termination=False,total_computation_time=seconds,seed=seed)
    s=inst.solve(cfg)
    print(json.dumps({"name":d["name"],"density":area/(h*s.width),"width":s.width,"theirs":s.density,"seconds":time.time()-t,"seed":seed}),flush=True)
