def findings(area):
    return []
