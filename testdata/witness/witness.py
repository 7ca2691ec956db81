import sys
from collections import Counter
import calls

import server
s=server.running(); calls.lixi.server=s.__enter__()
known=calls.catalog()
total = Counter(); wrong=[]
for call in calls.every_call():
    for sheet in call.sheets(known):
        w, seen = sheet.judge()
        total += seen
        wrong += [f"{call.command} {call.name}: {x}" for x in w]
print(total); print(len(wrong)); print("\n".join(wrong[:int(sys.argv[1])]))
s.__exit__(None,None,None)
